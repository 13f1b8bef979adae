"""Which address shows what. Looking is GET and starts no work; whatever starts work is a POST of one of the forms."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from concurrent.futures import wait
from dataclasses import dataclass

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp

from matcher.desk import forms, pages
from matcher.desk.answering import Compared, Planned, measurements
from matcher.desk.asking import CompareAsk, PlanAsk
from matcher.desk.downloads import download
from matcher.desk.guarding import Guard
from matcher.desk.memory import AskedWork, DeskMemory, ForgottenError
from matcher.desk.uploads import LARGEST, TooLargeError, read_upload
from matcher.house import House
from matcher.records import Catalogue, CatalogueError, MatcherError, UnknownNameError

PATIENCE = 1.5
"""Seconds that a page waits for an answer before it says that it is being planned."""
FAULT = "this is a fault of the program, not of your input; the window in which the desk was started says more"


def make_app(catalogue: Catalogue, rules: House, name: str, port: int) -> ASGIApp:
    """The desk for a catalogue, to be served on a port of this machine."""
    desk = _Desk(DeskMemory(catalogue, name, rules), secrets.token_urlsafe(32))
    app = Starlette(
        routes=[
            Route("/", desk.choose),
            Route("/favicon.ico", lambda _request: Response(status_code=204)),
            Route("/catalogue", desk.upload, methods=["POST"]),
            Route("/catalogue/{key}", desk.choose),
            Route("/plan", desk.begin_plan, methods=["POST"]),
            Route("/plan/{key}", desk.show),
            Route("/plan/{key}/pin", desk.pin, methods=["POST"]),
            Route("/plan/{key}/unpin", desk.unpin, methods=["POST"]),
            Route("/plan/{key}/measured", desk.measure, methods=["POST"]),
            Route("/plan/{key}/{file}", desk.take),
            Route("/comparison", desk.begin_comparison, methods=["POST"]),
            Route("/comparison/{key}", desk.show),
            Route("/comparison/{key}/{file}", desk.take),
        ],
        exception_handlers={
            HTTPException: _http,
            ForgottenError: _told(404),
            UnknownNameError: _told(404),
            TooLargeError: _told(413),
            MatcherError: _told(400),
            Exception: _fault,
        },
    )
    return Guard(app, port)


@dataclass(frozen=True, slots=True)
class _Desk:
    """The pages of one run. What is not ``async`` runs in a thread of its own, so no page waits for another."""

    memory: DeskMemory
    token: str

    def choose(self, request: Request) -> Response:
        key = request.path_params.get("key", self.memory.first)
        catalogue, name = self.memory.catalogue(key)
        wanted = PlanAsk(key, request.query_params.get("set", ""), request.query_params.get("cabinet", ""))
        return pages.choosing(catalogue, name, self.token, wanted)

    async def upload(self, request: Request) -> Response:
        form = await forms.sent_form(request, self.token)
        file = form.get("workbook")
        if not isinstance(file, UploadFile):
            raise HTTPException(400, "expected an .xlsx workbook")
        content = await file.read(LARGEST + 1)
        if len(content) > LARGEST:
            raise TooLargeError(f"expected a workbook of at most {LARGEST // 10**6} MB")
        name = (file.filename or "workbook")[:200]
        read = await run_in_threadpool(read_upload, content, name)
        return _to(f"/catalogue/{self.memory.add(read, name)}")

    async def begin_plan(self, request: Request) -> Response:
        form = await forms.sent_form(request, self.token)
        catalogue, _ = self.memory.catalogue(forms.text(form, "catalogue"))
        return self._plan(forms.plan_ask(form, catalogue))

    async def begin_comparison(self, request: Request) -> Response:
        form = await forms.sent_form(request, self.token)
        catalogue, _ = self.memory.catalogue(forms.text(form, "catalogue"))
        return _to(f"/comparison/{self.memory.begin(forms.compare_ask(form, catalogue))}")

    async def pin(self, request: Request) -> Response:
        form = await forms.sent_form(request, self.token)
        ask = self._asked(request)
        return self._plan(await run_in_threadpool(forms.pinned, form, ask, self.memory.catalogue(ask.catalogue)[0]))

    async def unpin(self, request: Request) -> Response:
        form = await forms.sent_form(request, self.token)
        return self._plan(forms.unpinned(form, self._asked(request)))

    async def measure(self, request: Request) -> Response:
        form = await forms.sent_form(request, self.token)
        ask, key = self._asked(request), request.path_params["key"]
        catalogue, _ = self.memory.catalogue(ask.catalogue)
        typed = forms.with_readings(form, ask, catalogue)
        try:
            if typed.typed:
                measurements(catalogue, typed)
        except CatalogueError as refused:
            answer = _ready(self.memory.work(key))
            assert isinstance(answer, Planned)
            return pages.planning(catalogue, answer, ask, key, self.token, typed, refused.cells)
        return self._plan(typed)

    def show(self, request: Request) -> Response:
        key = request.path_params["key"]
        work = self.memory.work(key)
        wait([work.answer], PATIENCE)
        if not work.answer.done():
            return pages.waiting(work.ask, work.told)
        catalogue, _ = self.memory.catalogue(work.ask.catalogue)
        answer = work.answer.result()
        if isinstance(work.ask, CompareAsk):
            assert isinstance(answer, Compared)
            return pages.comparing(answer, work.ask, key, self.token)
        assert isinstance(answer, Planned)
        return pages.planning(catalogue, answer, work.ask, key, self.token)

    def take(self, request: Request) -> Response:
        work = self.memory.work(request.path_params["key"])
        made = download(_ready(work), request.path_params["file"])
        if made is None:
            raise HTTPException(404, "there is no such file")
        return made

    def _plan(self, ask: PlanAsk) -> Response:
        return _to(f"/plan/{self.memory.begin(ask)}")

    def _asked(self, request: Request) -> PlanAsk:
        """The ask of a page of a plan."""
        ask = self.memory.work(request.path_params["key"]).ask
        if not isinstance(ask, PlanAsk):
            raise ForgottenError("this is no plan")
        return ask


def _ready(work: AskedWork) -> Planned | Compared:
    """The answer of a work that is done."""
    if not work.answer.done():
        raise HTTPException(404, "this is still being planned: look again in a moment")
    return work.answer.result()


def _to(address: str) -> Response:
    return RedirectResponse(address, 303)


def _http(_request: Request, refused: Exception) -> Response:
    assert isinstance(refused, HTTPException)
    answer = pages.refusal(refused.status_code, refused.detail)
    answer.headers.update(refused.headers or {})
    return answer


def _fault(_request: Request, _raised: Exception) -> Response:
    return pages.refusal(500, FAULT)


def _told(status: int) -> Callable[[Request, Exception], Response]:
    """What tells an error of the input, as a page with that status."""

    def handler(_request: Request, refused: Exception) -> Response:
        cells = refused.cells if isinstance(refused, CatalogueError) else ()
        return pages.refusal(status, str(refused), cells)

    return handler
