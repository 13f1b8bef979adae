"""Stands before every page: only the desk's own address, only who knows its token, nothing cross-site or too large."""

from __future__ import annotations

from secrets import compare_digest
from urllib.parse import parse_qsl, urlencode

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import cookie_parser
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from matcher.desk.pages import POLICY, refusal
from matcher.desk.uploads import LARGEST

SLACK = 100_000
"""Bytes that a form may have beside the workbook in it."""
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cache-Control": "no-store",
}
NOT_LET_IN = "open the address that was printed when the desk was started; it holds the token that lets a browser in"
TOO_LARGE = f"expected at most {LARGEST // 10**6} MB"


class Guard:
    """Wraps the application; refuses what is not meant for it and puts the security headers on every answer.

    A page of another site whose name was made to point here (DNS rebinding) still sends that name as Host. A form of
    another site is told by Origin and Sec-Fetch-Site; besides, every form carries a token that other sites cannot read.

    Anybody with an account on this machine reaches its ports. So the address that is printed holds the token, and
    whoever opens it gets it as a cookie, which every request must bring.
    """

    def __init__(self, app: ASGIApp, port: int, token: str):
        self.app = app
        self.token = token
        self.cookie = f"matcher-desk-{port}"
        self.hosts = {f"127.0.0.1:{port}", f"localhost:{port}"}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def sent(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        headers = Headers(scope=scope)
        refused = self._refused(scope["method"], headers)
        answer = refusal(*refused) if refused else self._let_in(scope, headers) or self.app
        await answer(scope, _counted(receive), sent)

    def _let_in(self, scope: Scope, headers: Headers) -> Response | None:
        """None for who brings the cookie; the cookie for who brings the token in the address; else a refusal."""
        asked = parse_qsl(scope["query_string"].decode("latin-1"), keep_blank_values=True)
        if any(name == "token" and self._is_token(value) for name, value in asked):
            rest = urlencode([pair for pair in asked if pair[0] != "token"])
            to = RedirectResponse(f"http://{headers['host']}{scope['path']}{'?' if rest else ''}{rest}", 303)
            to.set_cookie(self.cookie, self.token, httponly=True, samesite="strict")
            return to
        if self._is_token(cookie_parser(headers.get("cookie", "")).get(self.cookie, "")):
            return None
        return refusal(403, NOT_LET_IN)

    def _is_token(self, given: str) -> bool:
        return compare_digest(given.encode(), self.token.encode())

    def _refused(self, method: str, headers: Headers) -> tuple[int, str] | None:
        """Status and words if the request is none for the desk."""
        host = headers.get("host", "")
        if host.lower() not in self.hosts:
            return 400, "this address is not the desk's own"
        if method in ("GET", "HEAD"):
            return None
        if headers.get("origin", f"http://{host}") != f"http://{host}":
            return 403, "this was sent by another site"
        if headers.get("sec-fetch-site", "same-origin") != "same-origin":
            return 403, "this was sent by another site"
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > LARGEST + SLACK:
            return 413, TOO_LARGE
        return None


def _counted(receive: Receive) -> Receive:
    """What is received, refused once it is more than is taken, whatever length was announced."""
    taken = 0

    async def received() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > LARGEST + SLACK:
            raise HTTPException(413, TOO_LARGE)
        return message

    return received
