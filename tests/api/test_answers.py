"""Every answer is of the shape the OpenAPI document promises, and says what it is not."""

from __future__ import annotations

from typing import Any

import httpx
import pytest
from fastapi import FastAPI
from pydantic import BaseModel

from service.api.desk import Desk
from service.api.problems import PROBLEMS
from service.api.schemas import (
    NOTICE,
    BatchAnswer,
    FamiliesAnswer,
    FamilyAnswer,
    HealthAnswer,
    MatesAnswer,
    NumberProblem,
    PageAnswer,
    PartAnswer,
    ProblemShape,
    RelationAnswer,
    RelativesAnswer,
    ReleaseAnswer,
    TablesAnswer,
)  # fmt: skip
from tests.strategies import real_catalogue

SHAPES: list[tuple[str, type[BaseModel]]] = [
    *((f"/v1/parts/{number}", PartAnswer) for number in ("AN4-12A", "an4h12", "AN365-1032A", "MS35333-40", "MS24665-132", "MS20995C32", "AN4-I2A")),
    ("/v1/parts/AN4-12A?basis=published", PartAnswer),
    ("/v1/parts/AN4H12/mates", MatesAnswer),
    ("/v1/parts/AN4-12A/mates?temperature=300&load=tension&rotates=true&material=wood", MatesAnswer),
    ("/v1/parts/AN4-12A/mates?primary_structure=true&frequently_removed=true&heat_source=true", MatesAnswer),
    ("/v1/parts/AN365-428A/mates?role=bolt&verdict=fits", MatesAnswer),
    ("/v1/parts/AN365-1032A/equivalents", RelativesAnswer),
    ("/v1/parts/AN960-416/equivalents?basis=secondary", RelativesAnswer),
    ("/v1/parts/AN365-1032A/equivalents/MS21044N3", RelationAnswer),
    ("/v1/parts/AN4-12A/equivalents/AN960-416", RelationAnswer),
    ("/v1/families", FamiliesAnswer),
    ("/v1/families?kind=lock_washer&limit=2", FamiliesAnswer),
    ("/v1/families/AN3-AN20", FamilyAnswer),
    ("/v1/families/AN4", FamilyAnswer),
    ("/v1/families/NAS1149", FamilyAnswer),
    ("/v1/tables", TablesAnswer),
    ("/v1/tables/laws?limit=3", PageAnswer),
    ("/v1/sources?limit=3", PageAnswer),
    ("/v1/rules?limit=3", PageAnswer),
    ("/v1/misreadings?limit=3", PageAnswer),
    ("/v1/release", ReleaseAnswer),
    ("/livez", HealthAnswer),
    ("/readyz", HealthAnswer),
]  # fmt: skip


@pytest.mark.parametrize(("url", "shape"), SHAPES)
async def test_an_answer_has_its_shape_and_its_release(
    app: httpx.AsyncClient, desk: Desk, url: str, shape: type[BaseModel]
) -> None:
    answer = await app.get(url)
    assert answer.status_code == 200, answer.text
    assert answer.headers["content-type"] == "application/json"
    found = shape.model_validate_json(answer.content, strict=True)
    assert found.release == desk.catalogue.digest  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "url",
    [
        "/v1/parts/AN4-12A",
        "/v1/parts/AN4-12A/mates",
        "/v1/parts/AN365-1032A/equivalents",
        "/v1/parts/AN365-1032A/equivalents/MS21044N3",
    ],
)
async def test_answers_about_hardware_say_they_are_not_approved_data_and_carry_cautions(
    app: httpx.AsyncClient, url: str
) -> None:
    body = (await app.get(url)).json()
    assert body["notice"] == NOTICE
    assert "not approved data" in body["notice"]
    assert body["cautions"]
    assert all(c["text"] and c["row"] for c in body["cautions"])


@pytest.mark.parametrize("family", list(real_catalogue().families))
async def test_every_family_page_and_example_part_have_their_shapes(app: httpx.AsyncClient, family: str) -> None:
    page = FamilyAnswer.model_validate_json((await app.get(f"/v1/families/{family}")).content)
    assert page.family == family
    for number in page.examples:
        part = PartAnswer.model_validate_json((await app.get(f"/v1/parts/{number}")).content)
        assert (part.number, part.spelling, part.family) == (number, "exact", family)
        assert part.segments[0].slot == "basic"
        cited = [a for a in part.attributes.values() if a.value is not None]
        assert all(a.row and a.source and a.basis for a in cited)
        assert all(a.reason for a in part.attributes.values() if a.value is None)
        assert {a.source for a in cited} <= set(part.sources)


async def test_bytes_written_from_fragments_say_what_the_part_says(app: httpx.AsyncClient, desk: Desk) -> None:
    """The writer keeps ready pieces; whatever was asked before, an answer must be that of its own number."""
    numbers = [
        "AN4-12A",
        "AN4-13A",
        "AN5-12A",
        "AN4H12A",
        "AN4-12",
        "AN4C12",
        "AN4DD12A",
        "AN4-12A",
        "AN960-416",
        "AN960-416L",
        "AN960C416",
    ]
    for basis in ("from-memory", "secondary", "from-memory", "published"):
        for number in numbers:
            body = (await app.get(f"/v1/parts/{number}", params={"basis": basis})).json()
            part = desk.part(number, basis)
            assert body["number"] == number
            assert body["description"] == part.description
            assert {k: a["value"] for k, a in body["attributes"].items()} == {
                k: v.text for k, v in part.attributes.items()
            }
            assert {k: a["display"] for k, a in body["attributes"].items()} == {
                k: v.display for k, v in part.attributes.items()
            }
            assert [s["text"] for s in body["segments"]] == [s.text for s in part.segments]
            assert [m["right"] for m in body["misreadings"]] == [
                m.text for m in part.misreadings if basis == "from-memory"
            ] or basis != "from-memory"


async def test_quantities_leave_as_decimal_strings_with_unit_and_print(app: httpx.AsyncClient) -> None:
    grip = (await app.get("/v1/parts/AN4-12A")).json()["attributes"]["grip_length"]
    assert (grip["value"], grip["unit"], grip["display"]) == ("0.8125", "[in_i]", "13/16 in")
    assert (grip["plus"], grip["minus"]) == ("0.016", "0.016")
    assert (grip["row"], grip["basis"]) == ("bolts.an3-an20.an4.dash12.grip_length", "secondary")


async def test_a_basis_makes_weaker_values_null_with_the_reason(app: httpx.AsyncClient) -> None:
    everything = (await app.get("/v1/parts/AN4-12A")).json()["attributes"]
    published = (await app.get("/v1/parts/AN4-12A?basis=published")).json()["attributes"]
    assert everything.keys() == published.keys()
    assert everything["shank_diameter"]["value"] == "0.249"
    assert published["shank_diameter"]["value"] is None
    assert "published" in published["shank_diameter"]["reason"]
    assert published["load_class"]["value"] == "tension"
    assert all(a["basis"] in {None, "published"} for a in published.values())


@pytest.mark.parametrize(
    "url",
    [
        "/v1/parts/AN4H12?basis=secondary",
        "/v1/parts/AN4H12/mates?basis=secondary",
        "/v1/parts/AN365-1032A/equivalents?basis=secondary",
        "/v1/parts/AN365-1032A/equivalents/MS20365-1032A?basis=secondary",
    ],
)
async def test_no_row_weaker_than_the_basis_leaves_any_operation(app: httpx.AsyncClient, url: str) -> None:
    def bases(node: Any) -> set[str]:
        if isinstance(node, dict):
            own = {node["basis"]} if isinstance(node.get("basis"), str) else set()
            return own.union(*(bases(value) for value in node.values()))
        return set().union(*(bases(value) for value in node)) if isinstance(node, list) else set()

    assert bases((await app.get(url)).json()) <= {"published", "secondary"}


async def test_spelling_and_corrections_are_told(app: httpx.AsyncClient) -> None:
    body = (await app.get("/v1/parts/AN4-I2A")).json()
    assert (body["number"], body["asked"], body["spelling"]) == ("AN4-12A", "AN4-I2A", "corrected")
    assert body["corrections"] == [{"found": "I", "read": "1", "reason": "I and 1 look alike"}]


async def test_a_number_with_a_space_or_a_slash_in_the_path_is_answered(app: httpx.AsyncClient) -> None:
    assert (await app.get("/v1/parts/an4%2012a")).json()["number"] == "AN4-12A"
    assert (await app.get("/v1/parts/AN4%2F12A")).headers["content-type"] == "application/problem+json"


async def test_two_misreadings_are_told_where_they_mislead(app: httpx.AsyncClient) -> None:
    bolt = (await app.get("/v1/parts/AN4-42A")).json()["misreadings"]
    assert any("42/8" in m["wrong"] and "4 2/8" in m["right"] for m in bolt)
    nut = (await app.get("/v1/parts/AN365-1032A")).json()["misreadings"]
    assert any("not drilled" in m["wrong"] and "insert" in m["right"] for m in nut)
    assert not any("not drilled" in m["wrong"] for m in (await app.get("/v1/parts/AN960-416")).json()["misreadings"])


async def test_no_statement_calls_a_superseded_part_interchangeable(app: httpx.AsyncClient) -> None:
    body = (await app.get("/v1/parts/AN365-1032A/equivalents")).json()
    told = [r for r in body["relatives"] if r["relation"] == "superseded by"]
    assert told
    assert all("not the same as interchangeable" in r["statement"] for r in told)
    assert body["order_of_trust"][0] == "same standard renumbered"
    assert body["order_of_trust"][-1] == "not equivalent"


async def test_two_numbers_that_no_row_relates_are_compared_without_a_relation(app: httpx.AsyncClient) -> None:
    body = (await app.get("/v1/parts/MS21044N3/equivalents/AN365-1032A")).json()
    assert body["relation"] is None
    assert body["chains"] == []
    assert "No row relates" in body["statement"]
    assert body["comparison"]


PROBLEM_CALLS: list[tuple[str, str, str, int, dict[str, Any]]] = [
    ("GET", "/v1/parts/AN4-18A", "not-made", 404, {}),
    ("GET", "/v1/parts/XYZ123-4", "not-covered", 404, {}),
    ("GET", "/v1/parts/AN310", "ambiguous", 422, {}),
    ("GET", "/v1/parts/AN4-12Z", "unreadable", 422, {}),
    ("GET", "/v1/parts/AN4-18A/mates", "not-made", 404, {}),
    ("GET", "/v1/parts/AN4-12A/equivalents/AN4-18A", "not-made", 404, {}),
    ("GET", "/v1/parts/AN4-12A?bases=published", "unknown-parameter", 400, {}),
    ("GET", "/v1/parts/AN4-12A/mates?temprature=300", "unknown-parameter", 400, {}),
    ("GET", "/v1/release?x=1", "unknown-parameter", 400, {}),
    ("GET", "/v1/families/AN4?x=1", "unknown-parameter", 400, {}),
    ("GET", "/v1/tables/laws?cells[nothing]=1", "unknown-parameter", 400, {}),
    ("GET", "/v1/tables/laws?scope=AN960", "unknown-parameter", 400, {}),
    ("GET", "/v1/parts/AN4-12A?basis=certain", "bad-parameter", 400, {}),
    ("GET", "/v1/parts/AN4-12A?basis=published&basis=derived", "bad-parameter", 400, {}),
    ("GET", "/v1/parts/AN4-12A/mates?temperature=hot", "bad-parameter", 400, {}),
    ("GET", "/v1/parts/AN4-12A/mates?temperature=NaN", "bad-parameter", 400, {}),
    ("GET", "/v1/parts/AN4-12A/mates?temperature=inf", "bad-parameter", 400, {}),
    ("GET", "/v1/parts/AN4-12A/mates?load=sideways", "bad-parameter", 400, {}),
    ("GET", "/v1/families?limit=0", "bad-parameter", 400, {}),
    ("GET", "/v1/families?limit=501", "bad-parameter", 400, {}),
    ("GET", "/v1/families?kind=gadget", "bad-parameter", 400, {}),
    ("GET", "/v1/families?cursor=%21%21", "bad-parameter", 400, {}),
    ("GET", "/v1/families/AN9999", "not-found", 404, {}),
    ("GET", "/v1/tables/nothing", "not-found", 404, {}),
    ("GET", "/v1/nothing", "not-found", 404, {}),
    ("GET", "/nothing", "not-found", 404, {}),
    ("GET", "/problems/nothing", "not-found", 404, {}),
    ("DELETE", "/v1/parts/AN4-12A", "method-not-allowed", 405, {}),
    ("PUT", "/v1/release", "method-not-allowed", 405, {}),
    ("GET", "/v1/parts/AN4-12A", "not-acceptable", 406, {"headers": {"accept": "image/png"}}),
    ("GET", "/v1/parts/AN4-12A", "not-acceptable", 406, {"headers": {"accept": "application/json;q=0"}}),
    ("POST", "/v1/parts/decode", "unsupported-media-type", 415, {"content": b"<a/>", "headers": {"content-type": "application/xml"}}),
    ("POST", "/v1/parts/decode", "bad-body", 422, {"content": b"{", "headers": {"content-type": "application/json"}}),
    ("POST", "/v1/parts/decode", "bad-body", 422, {"json": {"numbers": []}}),
    ("POST", "/v1/parts/decode", "bad-body", 422, {"json": {"numbers": ["AN4-12A"], "more": 1}}),
    ("POST", "/v1/parts/decode", "bad-body", 422, {"content": b"\n \n", "headers": {"content-type": "text/plain"}}),
    ("POST", "/v1/parts/decode", "bad-body", 422, {"content": b"\xff\xfe\xff", "headers": {"content-type": "text/plain"}}),
    ("POST", "/v1/parts/decode?x=1", "unknown-parameter", 400, {"json": {"numbers": ["AN4-12A"]}}),
]  # fmt: skip


@pytest.mark.parametrize(("method", "url", "name", "status", "sent"), PROBLEM_CALLS)
async def test_a_problem_is_a_problem_document_with_a_page(
    app: httpx.AsyncClient, method: str, url: str, name: str, status: int, sent: dict[str, Any]
) -> None:
    answer = await app.request(method, url, **sent)
    assert answer.status_code == status, answer.text
    assert answer.headers["content-type"] == "application/problem+json"
    assert answer.headers["cache-control"] == "no-store"
    assert "etag" not in answer.headers
    shape = NumberProblem if name in {"not-made", "not-covered", "ambiguous", "unreadable"} else ProblemShape
    problem = shape.model_validate_json(answer.content)
    assert (problem.type, problem.status, problem.title) == (f"/problems/{name}", status, PROBLEMS[name].title)
    assert problem.detail
    assert problem.instance == httpx.URL(url).path or "%" in url
    assert (await app.get(problem.type)).status_code == 200


async def test_a_refusal_teaches_the_piece_the_expectation_and_the_neighbours(app: httpx.AsyncClient) -> None:
    problem = (await app.get("/v1/parts/AN4-18A")).json()
    assert problem["piece"]["text"] == "18"
    assert problem["piece"]["slot"] == "length"
    assert problem["neighbours"] == ["AN4-17A", "AN4-20A"]
    assert (problem["row"], problem["outcome"], problem["family"]) == (
        "bolts.an3-an20.slot.length",
        "not-made",
        "AN3-AN20",
    )


async def test_the_allow_header_names_the_methods(app: httpx.AsyncClient) -> None:
    assert "GET" in (await app.delete("/v1/parts/AN4-12A")).headers["allow"]
    assert "POST" in (await app.put("/v1/parts/decode")).headers["allow"]


async def test_an_unknown_parameter_is_refused_with_those_that_exist(app: httpx.AsyncClient) -> None:
    problem = (await app.get("/v1/parts/AN4-12A/mates?temprature=300")).json()
    assert problem["parameters"] == ["temprature"]
    assert {
        "temperature",
        "load",
        "rotates",
        "material",
        "primary_structure",
        "frequently_removed",
        "heat_source",
        "basis",
    } <= set(problem["known"])


@pytest.mark.parametrize("name", list(PROBLEMS))
async def test_every_problem_type_has_a_page_for_people_and_for_programs(app: httpx.AsyncClient, name: str) -> None:
    page = await app.get(f"/problems/{name}", headers={"accept": "text/html"})
    assert page.status_code == 200
    assert page.headers["content-type"].startswith("text/html")
    assert PROBLEMS[name].meaning.split(",")[0].replace("'", "&#x27;") in page.text
    assert "content-security-policy" in page.headers
    told = (await app.get(f"/problems/{name}", headers={"accept": "application/json"})).json()
    assert (told["name"], told["status"]) == (name, PROBLEMS[name].status)
    assert told["remedy"]


async def test_a_fault_of_the_service_is_a_problem_document_without_its_inside(
    served: FastAPI, monkeypatch: pytest.MonkeyPatch
) -> None:
    from service.app import over_desk

    desk: Desk = served.state.desk

    def broken(*_: object) -> None:
        raise RuntimeError("secret inside")

    monkeypatch.setattr(type(desk.writer), "part", broken)
    bare = over_desk(desk)
    async with httpx.AsyncClient(
        transport=httpx.ASGITransport(app=bare, raise_app_exceptions=False), base_url="http://t.test"
    ) as client:
        answer = await client.get("/v1/parts/AN7-12A")
    assert answer.status_code == 500
    assert answer.headers["content-type"] == "application/problem+json"
    assert answer.json()["type"] == "/problems/internal-error"
    assert "secret" not in answer.text


async def test_every_operation_in_a_batch_shape(app: httpx.AsyncClient) -> None:
    answer = await app.post("/v1/parts/decode", json={"numbers": ["AN4-12A", "AN4-18A", "XYZ1-1", "AN310", "AN4-12Z"]})
    results = BatchAnswer.model_validate_json(answer.content).results
    assert [r.outcome for r in results] == ["decoded", "not-made", "not-covered", "ambiguous", "unreadable"]
    assert all((r.part is None) == (r.problem is not None) for r in results)
