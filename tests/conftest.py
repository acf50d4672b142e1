"""What the whole suite shares: one catalogue, one reader, one desk, and the service in-process over a temporary SQLite file."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable

import httpx
import pytest
from fastapi import FastAPI
from hypothesis import HealthCheck, settings

from service.api.desk import Desk
from service.app import create_app
from service.catalogue.catalogue import Catalogue
from service.designation.reader import Reader
from service.parts.part import Part
from service.settings import Settings
from tests.strategies import real_catalogue

# derandomized: a run that is green stays green until code or tables change
settings.register_profile("suite", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("suite")


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return real_catalogue()


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """The service as it is served, with the cache of ready answers in front."""
    database = tmp_path_factory.mktemp("sql") / "tables.sqlite"
    return create_app(Settings(database_url=f"sqlite:///{database}"))


@pytest.fixture(scope="session")
def desk(served: FastAPI) -> Desk:
    found: Desk = served.state.desk
    return found


@pytest.fixture(scope="session")
def reader(desk: Desk) -> Reader:
    return desk.reader


@pytest.fixture(scope="session")
def part(desk: Desk) -> Callable[..., Part]:
    """A part by its number: ``part("AN4-12A")``, ``part("AN4-12A", basis="published")``."""

    def named(number: str, basis: str = "from-memory") -> Part:
        return desk.part(number, basis)

    return named


@pytest.fixture
async def app(served: FastAPI) -> AsyncIterator[httpx.AsyncClient]:
    """A client of the service, in-process."""
    transport = httpx.ASGITransport(app=served, raise_app_exceptions=False)
    async with httpx.AsyncClient(transport=transport, base_url="http://gripledger.test") as client:
        yield client
