"""Work that the first caller would otherwise wait for, done beside the service once it answers."""

from __future__ import annotations

import gc
import threading
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from typing import Final

from fastapi import FastAPI

from service.api.ready import Operation

#: rest between two steps, so that requests never wait for more than the one under way
_REST_SECONDS: Final = 0.002


class Warming:
    """Runs the warm steps of operations in a thread of its own; it ends by itself, or with the service."""

    def __init__(self, operations: Iterable[Operation]) -> None:
        self._operations = tuple(operations)
        self._ending = threading.Event()
        self.done = threading.Event()

    def run(self) -> None:
        """Every step of every operation, with a rest between them."""
        for operation in self._operations:
            for _ in operation.warm() if operation.warm is not None else ():
                if self._ending.wait(_REST_SECONDS):
                    return
        gc.freeze()  # what was built lives as long as the process: no collection need look at it again
        self.done.set()

    @asynccontextmanager
    async def lifespan(self, _app: FastAPI) -> AsyncIterator[None]:
        """The life of the app, with the warming beside it."""
        thread = threading.Thread(target=self.run, name="warming", daemon=True)
        thread.start()
        yield
        self._ending.set()
        thread.join()
