"""Which address shows what. Looking is GET and starts no work; whatever starts work is a POST of one of the forms.

An answer's address says all that was asked for it, so it can be kept, gone back to, and asked again in another run.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import wait
from dataclasses import dataclass
from urllib.parse import urlencode

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp

from matcher.desk import forms, pages
from matcher.desk.answering import Answer, Planned, check, measurements
from matcher.desk.asking import Ask, PlanAsk, address_of
from matcher.desk.downloads import FileWish, download
from matcher.desk.earlier import plan_at_hand, read_plan
from matcher.desk.guarding import Guard
from matcher.desk.memory import AskedWork, DeskMemory, ForgottenError, ended
from matcher.desk.uploads import LARGEST, TooLargeError, read_upload
from matcher.planning import Fits
from matcher.records import CatalogueError, MatcherError, UnknownNameError, UsageError

PATIENCE = 1.5
"""Seconds that a page waits for an answer before it says that it is being planned."""
FAULT = "this is a fault of the program, not of your input; the window in which the desk was started says more"
PAGES = ("plan", "comparison", "sets", "offer", "drawers", "standing", "release", "tolerance", "settling")


def make_app(memory: DeskMemory, port: int, token: str) -> ASGIApp:
    """The desk with what it remembers, to be served on a port of this machine to whoever knows the token."""
    desk = _Desk(memory, token)
    app = Starlette(
        routes=[
            Route("/", desk.home),
            Route("/favicon.ico", lambda _request: Response(status_code=204)),
            Route("/catalogue", desk.upload, methods=["POST"]),
            Route("/catalogue/{key}", desk.home),
            Route("/matrix", desk.fill, methods=["POST"]),
            Route("/earlier", desk.earlier),
            Route("/earlier", desk.open_plan, methods=["POST"]),
            Route("/plan/add", desk.add, methods=["POST"]),
            *(Route(f"/{page}", desk.show) for page in PAGES),
            *(Route(f"/{page}", desk.begin, methods=["POST"]) for page in PAGES),
            *(Route(f"/{page}/end", desk.end, methods=["POST"]) for page in PAGES),
            *(Route(f"/{page}/{{file}}", desk.take) for page in PAGES),
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
    return Guard(app, port, token)


@dataclass(frozen=True, slots=True)
class _Desk:
    """The pages of one run. What is not ``async`` runs in a thread of its own, so no page waits for another."""

    memory: DeskMemory
    token: str

    def home(self, request: Request) -> Response:
        key = request.path_params.get("key", self.memory.first)
        catalogue, name = self.memory.catalogue(key)
        chosen = forms.text(request.query_params, "set"), forms.text(request.query_params, "cabinet")
        return pages.home(catalogue, name, self.token, self.memory.matrix(key), *chosen)

    async def upload(self, request: Request) -> Response:
        content, name = await _sent(await forms.sent_form(request, self.token), "workbook")
        read = await run_in_threadpool(read_upload, content, name)
        return _to(f"/catalogue/{self.memory.add(read, name, content)}")

    async def open_plan(self, request: Request) -> Response:
        """Take in the document of an earlier plan."""
        form = await forms.sent_form(request, self.token)
        key = forms.text(form, "catalogue")
        self.memory.catalogue(key)
        content, name = await _sent(form, "plan")
        plan = self.memory.add_plan(await run_in_threadpool(read_plan, content, name))
        return _to(f"/earlier?{urlencode({'catalogue': key, 'plan': plan.key})}")

    def earlier(self, request: Request) -> Response:
        key = forms.text(request.query_params, "catalogue")
        catalogue, _ = self.memory.catalogue(key)
        return pages.earlier(catalogue, self.memory.plan(forms.text(request.query_params, "plan")), self.token)

    async def add(self, request: Request) -> Response:
        """Plan another set in the drawers that a plan leaves free."""
        form = await forms.sent_form(request, self.token)
        ask = await run_in_threadpool(self._added, form)
        self.memory.begin(ask)
        return _to(address_of(ask))

    async def fill(self, request: Request) -> Response:
        """Fill the matrix, or stop filling it."""
        form = await forms.sent_form(request, self.token)
        key = forms.text(form, "catalogue")
        self.memory.catalogue(key)
        matrix = self.memory.matrix(key)
        if forms.text(form, "end") and matrix:
            matrix.stop.now.set()
        else:
            self.memory.fill_matrix(key)
        return _to(f"/catalogue/{key}")

    async def begin(self, request: Request) -> Response:
        form = await forms.sent_form(request, self.token)
        ask = await run_in_threadpool(self._asked, _page(request), form)
        if isinstance(ask, PlanAsk):
            try:
                await run_in_threadpool(self._check, ask)
            except CatalogueError as refused:
                return await run_in_threadpool(self._readings_refused, ask, refused)
        self.memory.begin(ask, anew=bool(forms.text(form, "again")))
        return _to(address_of(ask))

    async def end(self, request: Request) -> Response:
        """Have a work ended: at once, or with the best plan so far."""
        form = await forms.sent_form(request, self.token)
        ask = await run_in_threadpool(self._asked, _page(request), form)
        work = self.memory.work(ask)
        if work and not work.answer.done():
            (work.stop.soon if forms.text(form, "soon") else work.stop.now).set()
        return _to(address_of(ask))

    def show(self, request: Request) -> Response:
        ask = self._asked(_page(request), request.query_params)
        work = self.memory.work(ask)
        if work is None:
            return pages.not_asked(ask, self.token)
        wait([work.answer], PATIENCE)
        if ended(work):
            return pages.ended(ask, self.token)
        if not work.answer.done():
            return pages.waiting(ask, work, self.token)
        return pages.answer(*self.memory.catalogue(ask.catalogue), work.answer.result(), ask, self.token)

    def take(self, request: Request) -> Response:
        fields = request.query_params
        answer = _ready(self.memory.work(self._asked(_page(request), fields)))
        wish = FileWish(
            forms.text(fields, "paper") or "A4",
            forms.text(fields, "group"),
            forms.text(fields, "estimates") == "yes",
            self.memory.source(forms.text(fields, "catalogue")),
        )
        made = download(answer, request.path_params["file"], wish)
        if made is None:
            raise HTTPException(404, "there is no such file")
        return made

    def _asked(self, page: str, fields: forms.Fields) -> Ask:
        catalogue, _ = self.memory.catalogue(forms.text(fields, "catalogue"))
        return forms.ask_of(page, fields, catalogue, self.memory.plan)

    def _added(self, fields: forms.Fields) -> PlanAsk:
        catalogue, _ = self.memory.catalogue(forms.text(fields, "catalogue"))
        asked = forms.plan_ask(fields, catalogue, self.memory.plan)
        answer = _ready(self.memory.work(asked))
        if not (isinstance(answer, Planned) and isinstance(answer.outcome, Fits)):
            raise UsageError("nothing can be added: there is no plan")
        added = forms.added_ask(fields, catalogue, asked, self.memory.add_plan(plan_at_hand(answer.outcome)))
        self._check(added)
        return added

    def _check(self, ask: PlanAsk) -> None:
        catalogue, _ = self.memory.catalogue(ask.catalogue)
        check(catalogue, self.memory.rules, ask)
        if ask.typed:
            measurements(catalogue, ask)

    def _readings_refused(self, ask: PlanAsk, refused: CatalogueError) -> Response:
        catalogue, _ = self.memory.catalogue(ask.catalogue)
        return pages.readings_refused(catalogue, ask, refused.cells, self.token)


async def _sent(form: FormData, name: str) -> tuple[bytes, str]:
    """The bytes of a file that was sent, and what it is called there."""
    file = form.get(name)
    if not isinstance(file, UploadFile):
        raise HTTPException(400, f"{name}: no file was sent")
    content = await file.read(LARGEST + 1)
    if len(content) > LARGEST:
        raise TooLargeError(f"{name}: expected a file of at most {LARGEST // 10**6} MB")
    return content, (file.filename or name)[:200]


def _page(request: Request) -> str:
    """Which page an address belongs to."""
    return request.url.path.split("/")[1]


def _ready(work: AskedWork | None) -> Answer:
    """The answer of a work that is done."""
    if work is None:
        raise ForgottenError("this answer is not remembered here; open its page and have it worked out")
    if not work.answer.done():
        raise HTTPException(404, "this is still being planned: look again in a moment")
    if ended(work):
        raise HTTPException(404, "this was ended before there was an answer")
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
