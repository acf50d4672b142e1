"""Ready answers kept as bytes in front of the router, by (URL, Accept, packed or not). They belong to one release, so nothing here ever goes stale."""

from __future__ import annotations

from collections import OrderedDict

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.api.packing import takes_gzip

_PREFIX = "/v1/"
_KEPT_HEADERS = {b"content-type", b"content-length", b"etag", b"cache-control", b"vary", b"link", b"content-encoding"}


class Kept:
    """One answer: what to send, and its tag."""

    __slots__ = ("body", "etag", "not_modified", "start")

    def __init__(self, start: Message, body: bytes) -> None:
        headers = [(k, v) for k, v in start["headers"] if k in _KEPT_HEADERS]
        self.start = {"type": "http.response.start", "status": 200, "headers": headers}
        self.body = {"type": "http.response.body", "body": body}
        self.etag = next(v for k, v in headers if k == b"etag")
        short = [(k, v) for k, v in headers if k in {b"etag", b"cache-control", b"vary"}]
        self.not_modified = {"type": "http.response.start", "status": 304, "headers": short}


_EMPTY: Message = {"type": "http.response.body", "body": b""}


class ReadyAnswers:
    """ASGI middleware: answers of a release that were given before are given again, byte for byte.

    Only complete 200 answers to GET with an ETag are kept; everything else passes through. ``limit`` bounds the bytes kept, the least recently used
    leave first.
    """

    def __init__(self, app: ASGIApp, limit: int) -> None:
        self.app = app
        self.limit = limit
        self.size = 0
        self._kept: OrderedDict[tuple[str, bytes, bytes, bytes], Kept] = OrderedDict()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Give a kept answer again, or pass the request on and keep the answer."""
        if scope["type"] != "http" or scope["method"] != "GET" or not scope["path"].startswith(_PREFIX):
            await self.app(scope, receive, send)
            return
        accept = tag = coding = b""
        for name, value in scope["headers"]:
            if name == b"accept":
                accept = accept + b"," + value if accept else value
            elif name == b"accept-encoding":
                coding = coding + b"," + value if coding else value
            elif name == b"if-none-match":
                tag = tag + b"," + value if tag else value
        key = (scope["path"], scope["query_string"], accept, b"gzip" if takes_gzip(coding) else b"")
        kept = self._kept.get(key)
        if kept is None:
            await self.app(scope, receive, self._keeping(key, send))
            return
        self._kept.move_to_end(key)
        if tag and (kept.etag in tag or tag.strip() == b"*"):
            await send(kept.not_modified)
            await send(_EMPTY)
        else:
            await send(kept.start)
            await send(kept.body)

    def _keeping(self, key: tuple[str, bytes, bytes, bytes], send: Send) -> Send:
        begun: list[Message] = []

        async def watch(message: Message) -> None:
            if message["type"] == "http.response.start":
                if message["status"] == 200 and any(k == b"etag" for k, _ in message["headers"]):
                    begun.append(message)
            elif begun and not message.get("more_body"):
                self._keep(key, begun[0], message.get("body", b""))
            else:
                begun.clear()
            await send(message)

        return watch

    def _keep(self, key: tuple[str, bytes, bytes, bytes], start: Message, body: bytes) -> None:
        weight = len(body) + 1024
        if weight > self.limit // 8 or sum(map(len, key)) > 2048:
            return
        if key in self._kept:  # two askers missed at the same time
            return
        self._kept[key] = Kept(start, body)
        self.size += weight
        while self.size > self.limit:
            _, gone = self._kept.popitem(last=False)
            self.size -= len(gone.body["body"]) + 1024
