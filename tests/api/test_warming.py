"""What the first caller would wait for is built beside the service, and never holds up its start or its end."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import replace

import httpx
from fastapi import FastAPI

from service.api.ready import Operation
from service.api.warming import Warming


def steps(ran: list[int], count: int, seconds: float = 0.0) -> Callable[[], Iterator[int]]:
    def warm() -> Iterator[int]:
        for number in range(count):
            time.sleep(seconds)
            ran.append(number)
            yield number

    return warm


async def test_every_step_of_every_operation_runs_once(served: FastAPI) -> None:
    ran: list[int] = []
    operations: list[Operation] = served.state.operations
    warming = Warming([replace(o, warm=steps(ran, 2)) for o in operations[:3]] + list(operations[3:4]))
    async with warming.lifespan(served):
        assert warming.done.wait(10)
    assert sorted(ran) == [0, 0, 0, 1, 1, 1]


async def test_a_service_that_ends_early_does_not_wait_for_the_rest(served: FastAPI) -> None:
    ran: list[int] = []
    warming = Warming([replace(served.state.operations[0], warm=steps(ran, 10_000, 0.01))])
    start = time.perf_counter()
    async with warming.lifespan(served):
        while not ran:
            time.sleep(0.001)
    assert time.perf_counter() - start < 5
    assert len(ran) < 10_000
    assert not warming.done.is_set()


async def test_the_first_search_and_the_first_selection_find_their_tables_built(
    served: FastAPI, app: httpx.AsyncClient
) -> None:
    """Every operation that says it can be warmed is, and answers as before."""
    assert {o.name for o in served.state.operations if o.warm is not None} == {"search-parts", "select-joint"}
    ask = {"stack": [{"thickness": 0.5}], "thread": "5/16-24", "limit": 2}
    before = (await app.post("/v1/joints/select", json=ask)).json()
    served.state.warming.run()
    assert served.state.warming.done.is_set()
    assert (await app.post("/v1/joints/select", json=ask)).json() == before
