"""Routes that answer with ready bytes.

FastAPI describes them (parameters, shapes, problems) in the OpenAPI document, but its dependency machinery is not in the way of an answer: a
route parses its query once with pydantic, calls its operation, and sends the bytes. Operations are pure functions of (release, request) and
never block, so they run on the event loop.
"""

from __future__ import annotations

import inspect
import logging
from collections.abc import Awaitable, Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol
from urllib.parse import parse_qsl

import orjson
from fastapi.routing import APIRoute
from pydantic import BaseModel, ConfigDict, ValidationError
from starlette.routing import Match
from starlette.types import Message, Receive, Scope, Send

from service.api.packing import packed, takes_gzip
from service.api.problems import PROBLEMS, Problem

JSON = "application/json"
CSV = "text/csv"
TEXT = "text/plain"
HTML = "text/html"
SVG = "image/svg+xml"
PROBLEM_JSON = "application/problem+json"

LOG = logging.getLogger("gripledger")

#: largest request body that is read, in bytes
LARGEST_BODY = 1 << 20


class QueryModel(BaseModel):
    """Base of every operation's query: a parameter it does not have is refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


@dataclass(frozen=True, slots=True)
class Answer:
    """Bytes ready to send. ``etag`` is None for what is not a function of the release."""

    body: bytes
    media: str = JSON
    status: int = 200
    headers: tuple[tuple[bytes, bytes], ...] = ()


@dataclass(frozen=True, slots=True)
class Body:
    """A request body as it came: its media type and its bytes."""

    media: str
    data: bytes


class Renderer(Protocol):
    """Turns a problem into its document."""

    def problem(self, problem: Problem, instance: str = "") -> bytes:
        """The problem document as bytes."""

    @property
    def release(self) -> str:
        """The release that answers."""


@dataclass(frozen=True)
class Operation:
    """One operation of the service: where it stands, how it is described, what it takes and gives, how it is shown to work."""

    method: str
    path: str
    name: str
    summary: str
    run: Callable[..., Answer | Awaitable[Answer]]
    shape: type[BaseModel] | None
    produces: tuple[str, ...] = (JSON,)
    consumes: tuple[str, ...] = ()
    body: type[BaseModel] | None = None
    problems: tuple[str, ...] = ()
    examples: tuple[Mapping[str, Any], ...] = ()
    tag: str = "parts"
    #: an answer of a release may be kept for ever under its ETag
    of_release: bool = True
    description: str = ""
    #: steps that build what the first answer would otherwise wait for; run once, after the service has started
    warm: Callable[[], Iterable[object]] | None = None

    @property
    def template(self) -> str:
        """The path as the OpenAPI document writes it: a parameter that may hold slashes loses its ``:path``."""
        return self.path.replace(":path}", "}")


class ReadyRoute(APIRoute):
    """An APIRoute whose ASGI app is the operation itself. What answers GET answers HEAD."""

    def matches(self, scope: Scope) -> tuple[Match, Scope]:
        """Whether the route takes a request; HEAD is matched as GET."""
        return super().matches({**scope, "method": "GET"} if scope.get("method") == "HEAD" else scope)

    async def handle(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request that matched."""
        if scope["method"] == "HEAD" and self.methods and "GET" in self.methods:
            await self.app(scope, receive, send)
        else:
            await super().handle(scope, receive, send)

    def answer_with(self, operation: Operation, renderer: Renderer) -> ReadyApp:
        """Serve ``operation`` from here on."""
        ready = ReadyApp(operation, renderer)
        self.app = ready
        return ready


class ReadyApp:
    """The ASGI app of one operation."""

    def __init__(self, operation: Operation, renderer: Renderer) -> None:
        self.operation = operation
        self.renderer = renderer
        hints = inspect.signature(operation.run, eval_str=True).parameters
        self.query_model: type[QueryModel] | None = _query_model(hints)
        self.no_query = self.query_model() if self.query_model is not None and not _required(self.query_model) else None
        self.takes_media = "media" in hints
        self.takes_body = "body" in hints
        self.takes_pairs = "pairs" in hints
        self.etags = {media: etag_of(renderer.release, media) for media in operation.produces}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        try:
            answer = await self.answer(scope, receive)
        except Problem as problem:
            await send_problem(problem, self.renderer, scope, send)
            return
        except Exception:
            LOG.exception("%s %s", scope["method"], scope["path"])
            await send_problem(
                Problem("internal-error", PROBLEMS["internal-error"].meaning), self.renderer, scope, send
            )
            return
        short = packed(answer.body) if takes_gzip(raw_header(scope, b"accept-encoding")) else None
        headers = [(b"content-encoding", b"gzip")] if short is not None else []
        if self.operation.of_release and answer.status == 200:
            etag = self.etags[answer.media] if short is None else packed_etag(self.etags[answer.media])
            reference = _reference_headers(self.operation, etag)
            if self.operation.method == "GET" and unchanged(matched(scope), etag):
                await send_bytes(send, 304, b"", reference, scope)
                return
            headers += [*reference, *answer.headers]
        else:
            headers += [(b"cache-control", b"no-store"), (b"vary", b"accept-encoding"), *answer.headers]
        headers.append((b"content-type", content_type(answer.media)))
        await send_bytes(send, answer.status, answer.body if short is None else short, headers, scope)

    async def answer(self, scope: Scope, receive: Receive) -> Answer:
        """Run the operation. Raises Problem."""
        operation = self.operation
        arguments: dict[str, Any] = dict(scope["path_params"])
        if self.takes_pairs:
            arguments["pairs"] = parse_qsl(scope["query_string"].decode("latin-1"), keep_blank_values=True)
        elif self.query_model is not None:
            raw = scope["query_string"]
            arguments["query"] = (
                self.no_query if not raw and self.no_query is not None else parse_query(self.query_model, raw)
            )
        elif scope["query_string"]:
            names = [name for name, _ in parse_qsl(scope["query_string"].decode("latin-1"), keep_blank_values=True)]
            raise Problem("unknown-parameter", f"{', '.join(names)}: this operation has no parameters.")
        media = negotiated(scope, operation.produces)
        if self.takes_media:
            arguments["media"] = media
        if self.takes_body:
            arguments["body"] = await read_body(scope, receive, operation.consumes)
        result = operation.run(**arguments)
        return await result if inspect.isawaitable(result) else result


def _query_model(hints: Mapping[str, inspect.Parameter]) -> type[QueryModel] | None:
    parameter = hints.get("query")
    if parameter is None:
        return None
    annotation = parameter.annotation
    model: type[QueryModel] = getattr(annotation, "__origin__", annotation)
    assert issubclass(model, QueryModel), f"query of {hints} is no QueryModel"
    return model


def _required(model: type[BaseModel]) -> bool:
    return any(info.is_required() for info in model.model_fields.values())


def parse_query(model: type[QueryModel], raw: bytes) -> QueryModel:
    """The query of a request. Raises Problem: unknown names apart from bad values, because the remedy differs."""
    values: dict[str, Any] = {}
    for name, value in parse_qsl(raw.decode("latin-1"), keep_blank_values=True):
        if name in values:
            raise Problem(
                "bad-parameter", f"{name} is given twice.", {"parameters": [{"name": name, "reason": "given twice"}]}
            )
        values[name] = value
    try:
        return model.model_validate(values)
    except ValidationError as error:
        faults = error.errors(include_url=False)
        unknown = [str(f["loc"][0]) for f in faults if f["type"] == "extra_forbidden"]
        if unknown:
            known = sorted(info.alias or name for name, info in model.model_fields.items())
            raise Problem(
                "unknown-parameter",
                f"No parameter {', '.join(unknown)}; known: {', '.join(known)}.",
                {"parameters": unknown, "known": known},
            ) from None
        listed = [{"name": ".".join(map(str, f["loc"])), "reason": f["msg"]} for f in faults]
        raise Problem(
            "bad-parameter", "; ".join(f"{f['name']}: {f['reason']}" for f in listed), {"parameters": listed}
        ) from None


def parse_json(model: type[BaseModel], data: bytes) -> Any:
    """A JSON body as ``model``. Raises Problem that lists every fault."""
    try:
        return model.model_validate(orjson.loads(data))
    except orjson.JSONDecodeError as error:
        raise Problem("bad-body", f"The body is not JSON: {error}.", {"faults": []}) from None
    except ValidationError as error:
        faults = [{"at": "/".join(map(str, f["loc"])), "reason": f["msg"]} for f in error.errors(include_url=False)][
            :50
        ]
        raise Problem(
            "bad-body", "; ".join(f"{f['at']}: {f['reason']}" for f in faults[:5]), {"faults": faults}
        ) from None


async def read_body(scope: Scope, receive: Receive, consumes: Sequence[str]) -> Body:
    """The request body, of one of the media types ``consumes``. Raises Problem."""
    media = header(scope, b"content-type").split(";")[0].strip().lower() or JSON
    if media not in consumes:
        raise Problem(
            "unsupported-media-type",
            f"{media} is not read here; {', '.join(consumes)} is.",
            {"consumes": list(consumes)},
        )
    chunks: list[bytes] = []
    size = 0
    while True:
        message: Message = await receive()
        chunk = message.get("body", b"")
        size += len(chunk)
        if size > LARGEST_BODY:
            raise Problem("too-many", f"A body may have {LARGEST_BODY} bytes.", {"limit": LARGEST_BODY})
        chunks.append(chunk)
        if not message.get("more_body"):
            return Body(media, b"".join(chunks))


def header(scope: Scope, name: bytes) -> str:
    """A request header, empty where there is none; repeated ones joined."""
    return raw_header(scope, name).decode("latin-1")


def raw_header(scope: Scope, name: bytes) -> bytes:
    """The same as bytes."""
    return b",".join(value for key, value in scope["headers"] if key == name)


def negotiated(scope: Scope, produces: Sequence[str]) -> str:
    """The media type to answer in (RFC 9110, 12.5.1). Raises Problem when none is acceptable."""
    accept = header(scope, b"accept")
    if not accept or accept == "*/*":
        return produces[0]
    weights: dict[str, tuple[float, int]] = {}
    for part in accept.split(","):
        media, *parameters = (piece.strip() for piece in part.split(";"))
        quality = 1.0
        for parameter in parameters:
            if parameter.startswith("q="):
                try:
                    quality = float(parameter[2:])
                except ValueError:
                    quality = 0.0
        for offered in produces:
            exactness = (
                2 if media == offered else 1 if media == offered.split("/")[0] + "/*" else 0 if media == "*/*" else -1
            )
            if exactness >= 0 and (offered not in weights or exactness > weights[offered][1]):
                weights[offered] = (quality, exactness)
    best = max(produces, key=lambda m: weights.get(m, (0.0, 0))[0])
    if weights.get(best, (0.0, 0))[0] <= 0:
        raise Problem(
            "not-acceptable", f"This operation answers in {', '.join(produces)}.", {"produces": list(produces)}
        )
    return best


def etag_of(release: str, media: str) -> str:
    """The strong entity tag of a reference answer: release and representation say all there is to say at one URL."""
    return f'"{release[:20]}.{media.split("/")[1]}"'


def packed_etag(etag: str) -> str:
    """The entity tag of the same answer packed: other bytes, another tag (RFC 9110, 8.8.3)."""
    return f'{etag[:-1]}.gz"'


def matched(scope: Scope) -> str:
    """The If-None-Match header; weak validators compare by their opaque part."""
    return header(scope, b"if-none-match").replace("W/", "")


def unchanged(tags: str, etag: str) -> bool:
    """Whether an If-None-Match header names the answer's tag; ``*`` names any."""
    return bool(tags) and (etag in tags or tags.strip() == "*")


def content_type(media: str) -> bytes:
    """The Content-Type header of a media type."""
    return f"{media}; charset=utf-8".encode() if media.startswith("text/") else media.encode()


def _reference_headers(operation: Operation, etag: str) -> list[tuple[bytes, bytes]]:
    headers = [
        (b"etag", etag.encode()),
        (b"cache-control", b"public, no-cache" if operation.method == "GET" else b"no-store"),
    ]
    headers.append((b"vary", b"accept, accept-encoding" if len(operation.produces) > 1 else b"accept-encoding"))
    return headers


async def send_bytes(send: Send, status: int, body: bytes, headers: list[tuple[bytes, bytes]], scope: Scope) -> None:
    """Send a whole response; a HEAD request gets its headers only."""
    if status != 304:
        headers.append((b"content-length", str(len(body)).encode()))
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": b"" if scope["method"] == "HEAD" else body})


async def send_problem(problem: Problem, renderer: Renderer, scope: Scope, send: Send) -> None:
    """Send a problem document."""
    body = renderer.problem(problem, instance=scope["path"])
    headers = [(b"content-type", PROBLEM_JSON.encode()), (b"cache-control", b"no-store")]
    headers += [(k.encode(), v.encode()) for k, v in problem.headers.items()]
    await send_bytes(send, PROBLEMS[problem.name].status, body, headers, scope)
