"""create_app(): the one place where everything is wired."""

from __future__ import annotations

import gc
import hashlib
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.routing import Match
from starlette.types import ASGIApp, Receive, Scope, Send

from service import __version__
from service.api import counter, openapi, pages, v1
from service.api.cache import ReadyAnswers
from service.api.desk import Desk
from service.api.lane import Lane
from service.api.problems import PROBLEMS, Problem
from service.api.ready import PROBLEM_JSON, Operation, ReadyApp, ReadyRoute
from service.api.warming import Warming
from service.catalogue.catalogue import load
from service.settings import Settings
from service.tables import store

#: rooms whose code decides what an answer says: a change there is a new release even when no table changed
_GRAMMAR_ROOMS = (
    "quantity.py",
    "tables",
    "catalogue",
    "designation",
    "parts",
    "mating",
    "equivalence",
    "joints",
    "drawings",
    "finding",
    "api",
)


class Service(FastAPI):
    """The FastAPI app with its front: kept answers first, then the short way in, then the routes."""

    front: ASGIApp

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or run the lifespan."""
        await self.front(scope, receive, send)

    async def routed(self, scope: Scope, receive: Receive, send: Send) -> None:
        """The long way: through the framework's stack and the routes."""
        await super().__call__(scope, receive, send)


def create_app(settings: Settings | None = None) -> Service:
    """The service over the tables that ``settings`` name. TablesUnfit when they have a fault."""
    settings = settings or Settings()
    gc.disable()  # a catalogue is a hundred thousand objects that live as long as the process: nothing here is garbage
    try:
        catalogue = load(settings.tables, grammar())
        engine = store.open_engine(settings.database_url)
        store.load(engine, catalogue.package, catalogue.digest)
        desk = Desk.over(catalogue, settings, store.Tables(engine, catalogue.digest))
        app = over_desk(desk)
    finally:
        gc.freeze()
        gc.enable()
    if settings.cache_mebibytes:
        app.front = ReadyAnswers(app.front, settings.cache_mebibytes << 20)
    return app


def over_desk(desk: Desk) -> Service:
    """The HTTP face of a desk."""
    operations = v1.operations(desk)
    warming = Warming(operations)
    app = Service(
        title="Gripledger",
        version=__version__,
        summary="Aircraft standard hardware by part number",
        description=openapi.DESCRIPTION,
        openapi_url="/openapi.json",
        docs_url=None,
        redoc_url=None,
        openapi_tags=openapi.TAGS,
        telemetry={"tracing": False, "metrics": False, "logs": False},
        lifespan=warming.lifespan,
        generate_unique_id_function=lambda route: route.name,
    )
    app.state.desk = desk
    app.state.warming = warming
    apps: list[tuple[Operation, ReadyApp]] = []
    for operation in operations:
        app.router.add_api_route(
            operation.path,
            openapi.described(operation.run),
            methods=[operation.method],
            operation_id=operation.name,
            name=operation.name,
            summary=operation.summary,
            description=operation.description or operation.summary,
            tags=[operation.tag],
            response_model=operation.shape,
            responses=openapi.responses(operation),
            route_class_override=ReadyRoute,
        )
        route = app.router.routes[-1]
        assert isinstance(route, ReadyRoute)
        apps.append((operation, route.answer_with(operation, desk.writer)))
    app.front = Lane(app.routed, apps)
    app.state.operations = operations
    app.openapi = lambda: openapi.finish(app, operations)  # type: ignore[method-assign]
    pages.add_to(app, desk)
    counter.add_to(app)
    _answer_problems(app, desk)
    return app


def _answer_problems(app: FastAPI, desk: Desk) -> None:
    """Every error leaves as a problem document, the framework's own included."""

    def respond(problem: Problem, request: Request, headers: dict[str, str] | None = None) -> Response:
        body = desk.writer.problem(problem, request.url.path)
        return Response(body, problem.type.status, {**(headers or {}), "cache-control": "no-store"}, PROBLEM_JSON)

    @app.exception_handler(Problem)
    async def _problem(request: Request, error: Problem) -> Response:
        return respond(error, request)

    @app.exception_handler(HTTPException)
    async def _http(request: Request, error: HTTPException) -> Response:
        name = {
            404: "not-found",
            405: "method-not-allowed",
            406: "not-acceptable",
            413: "too-many",
            415: "unsupported-media-type",
        }
        problem = Problem(
            name.get(error.status_code, "internal-error"), f"{request.method} {request.url.path}: {error.detail}"
        )
        headers = dict(error.headers or {})
        if error.status_code == 405:
            headers["allow"] = ", ".join(_methods_at(app, request))
        return respond(problem, request, headers)

    @app.exception_handler(RequestValidationError)
    async def _invalid(request: Request, error: RequestValidationError) -> Response:
        return respond(Problem("bad-parameter", str(error)), request)

    @app.exception_handler(Exception)
    async def _fault(request: Request, error: Exception) -> Response:  # noqa: ARG001 - the cause goes to the log, not to the caller
        return respond(Problem("internal-error", PROBLEMS["internal-error"].meaning), request)


def _methods_at(app: FastAPI, request: Request) -> list[str]:
    """Every method that some route takes at the request's path; a router's own answer names the first route only."""
    found: set[str] = set()
    for route in app.router.routes:
        methods = getattr(route, "methods", None)
        if methods and route.matches(dict(request.scope))[0] is not Match.NONE:
            found |= set(methods) | ({"HEAD"} if "GET" in methods else set())
    return sorted(found)


def grammar() -> bytes:
    """A digest of the code that decides what an answer says."""
    home = Path(__file__).resolve().parent
    total = hashlib.sha256()
    for room in _GRAMMAR_ROOMS:
        for path in sorted([home / room] if room.endswith(".py") else (home / room).rglob("*.py")):
            total.update(path.relative_to(home).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return total.digest()
