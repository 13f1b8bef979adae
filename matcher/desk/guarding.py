"""Stands before every page: only the desk's own address, nothing cross-site, nothing too large."""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
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
TOO_LARGE = f"expected at most {LARGEST // 10**6} MB"


class Guard:
    """Wraps the application; refuses what is not meant for it and puts the security headers on every answer.

    A page of another site whose name was made to point here (DNS rebinding) still sends that name as Host. A form of
    another site is told by Origin and Sec-Fetch-Site; besides, every form carries a token that other sites cannot read.
    """

    def __init__(self, app: ASGIApp, port: int):
        self.app = app
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

        refused = self._refused(scope["method"], Headers(scope=scope))
        answer = self.app if refused is None else refusal(*refused)
        await answer(scope, _counted(receive), sent)

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
