"""The short way in: a request whose path alone names its operation goes straight to it.

A framework's stack (error pages, telemetry, exit stacks, a list of patterns) costs more than reading a part number. A ready operation needs none of
it: it renders its own problems. Whatever the lane does not know goes the long way, and gets the same bytes there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from starlette.types import ASGIApp, Receive, Scope, Send

from service.api.ready import Operation, ReadyApp


class Lane:
    """ASGI: GET operations at a fixed path, or at a fixed path with one parameter behind it."""

    def __init__(self, app: ASGIApp, apps: Iterable[tuple[Operation, ReadyApp]]) -> None:
        self.app = app
        self._fixed: dict[str, ReadyApp] = {}
        self._last: dict[str, tuple[str, ReadyApp]] = {}
        for operation, ready in apps:
            before, brace, name = operation.path.partition("{")
            if operation.method != "GET":
                continue
            if not brace:
                self._fixed[operation.path] = ready
            elif before.endswith("/") and name.endswith("}") and name[:-1].isidentifier():
                self._last[before] = (name[:-1], ready)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or pass on."""
        if scope["type"] == "http" and scope["method"] in {"GET", "HEAD"} and not scope.get("root_path"):
            path: str = scope["path"]
            parameters: Mapping[str, str] = {}
            ready = self._fixed.get(path)
            if ready is None:
                cut = path.rfind("/") + 1
                named = self._last.get(path[:cut])
                if named is not None and cut < len(path):
                    parameters, ready = {named[0]: path[cut:]}, named[1]
            if ready is not None:
                await ready({**scope, "path_params": parameters}, receive, send)
                return
        await self.app(scope, receive, send)
