"""Drawings over HTTP: media type, tags, refusals."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree

import httpx
import pytest

from service.api.desk import Desk

SVG = "{http://www.w3.org/2000/svg}"
JOINT: dict[str, Any] = {
    "fastener": "AN4-12A",
    "under_head": ["AN960-416"],
    "stack": [{"thickness": "1/2", "material": "spar <&>"}, {"thickness": 0.19}],
    "under_nut": ["AN960-416"],
    "nut": "AN365-428A",
}


async def test_a_part_is_answered_as_svg_with_the_release_s_tag(app: httpx.AsyncClient, desk: Desk) -> None:
    answer = await app.get("/v1/parts/AN4-12A/drawing.svg")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/svg+xml"
    assert desk.catalogue.digest in answer.text
    again = await app.get("/v1/parts/AN4-12A/drawing.svg", headers={"if-none-match": answer.headers["etag"]})
    assert again.status_code == 304


async def test_spelling_is_cleaned_up_before_drawing(app: httpx.AsyncClient) -> None:
    assert (await app.get("/v1/parts/an4 12a/drawing.svg")).content == (
        await app.get("/v1/parts/AN4-12A/drawing.svg")
    ).content


async def test_a_number_that_is_not_made_is_the_decoder_s_problem(app: httpx.AsyncClient) -> None:
    answer = await app.get("/v1/parts/AN4-18A/drawing.svg")
    assert answer.headers["content-type"] == "application/problem+json"
    assert answer.json()["type"].endswith("/not-made")


@pytest.mark.parametrize("query", ["basis=guess", "ground=blue", "scale=2"])
async def test_a_query_it_does_not_know_is_refused(app: httpx.AsyncClient, query: str) -> None:
    assert (await app.get(f"/v1/parts/AN4-12A/drawing.svg?{query}")).status_code == 400


async def test_the_basis_asked_for_reaches_the_drawing(app: httpx.AsyncClient) -> None:
    answer = await app.get("/v1/parts/AN960-416/drawing.svg?basis=published")
    assert "(from-memory)" not in answer.text
    assert "(from-memory)" in (await app.get("/v1/parts/AN960-416/drawing.svg")).text


async def test_only_svg_is_drawn(app: httpx.AsyncClient) -> None:
    assert (await app.get("/v1/parts/AN4-12A/drawing.svg", headers={"accept": "application/json"})).status_code == 406
    assert (await app.get("/v1/parts/AN4-12A/drawing.svg", headers={"accept": "image/*"})).status_code == 200


async def test_a_joint_is_drawn_with_its_plates_in_words(app: httpx.AsyncClient) -> None:
    answer = await app.post("/v1/joints/drawing.svg", json=JOINT)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/svg+xml"
    words = ElementTree.fromstring(answer.content)[1].text or ""
    assert "plate 1: 0.5 in (1/2) spar <&>" in words
    assert "plate 2: 0.19 in" in words
    assert "licensed mechanic decides" in words


async def test_a_fault_comes_out_in_words(app: httpx.AsyncClient) -> None:
    asked = {**JOINT, "faults": [{"dimension": "grip", "words": "threads stand in the hole"}]}
    assert "FAULT, grip: threads stand in the hole" in (await app.post("/v1/joints/drawing.svg", json=asked)).text


@pytest.mark.parametrize(
    "change",
    [
        {"stack": []},
        {"stack": [{"thickness": "0"}]},
        {"stack": [{"thickness": "0/4"}]},
        {"stack": [{"thickness": -1}]},
        {"stack": [{"thickness": "NaN"}]},
        {"stack": [{"thickness": 25}]},
        {"stack": [{"thickness": "99 1/2"}]},
        {"stack": [{"thickness": "half an inch"}]},
        {"stack": [{"thickness": True}]},
        {"colour": "red"},
        {"faults": [{"dimension": "grip"}]},
        {"plate_nut": "MS21047-4"},
        {"stack": [{"thickness": "0.1", "minus": "0.1"}]},
        {"stack": [{"thickness": "0.1", "plus": "-0.1"}]},
        {"hole": {"value": "0.25", "minus": "0.25"}},
        {"nut_height": {"value": "0.2", "minus": "0.3"}},
        {"conditions": {"moon": "full"}},
    ],
)
async def test_a_joint_that_cannot_be_is_refused(app: httpx.AsyncClient, change: dict[str, Any]) -> None:
    answer = await app.post("/v1/joints/drawing.svg", json={**JOINT, **change})
    assert answer.status_code == 422
    assert answer.json()["faults"]


async def test_a_fastener_that_cannot_be_read_is_the_decoder_s_problem(app: httpx.AsyncClient) -> None:
    answer = await app.post("/v1/joints/drawing.svg", json={**JOINT, "fastener": "AN4-18A"})
    assert answer.json()["type"].endswith("/not-made")


async def test_a_nut_that_cannot_be_read_is_not_drawn_and_the_picture_says_so(app: httpx.AsyncClient) -> None:
    answer = await app.post("/v1/joints/drawing.svg", json={**JOINT, "nut": "AN365-99Z"})
    assert answer.status_code == 200
    root = ElementTree.fromstring(answer.content)
    assert "Not drawn: nut AN365-99Z" in (root[1].text or "")
    assert any((element.text or "").startswith("Not drawn: nut AN365-99Z") for element in root.iter(f"{SVG}text"))
    assert "AN365-99Z" not in (root[0].text or "")


async def test_what_the_check_finds_is_marked_at_its_dimension(app: httpx.AsyncClient) -> None:
    """Grip 1 9/16 in through 1/4 in of plate: it passes the pack by far more than any tolerance."""
    asked = {"fastener": "AN4-20A", "stack": [{"thickness": "1/4"}], "under_nut": ["AN960-416"], "nut": "AN365-428A"}
    checked = (await app.post("/v1/joints/check", json=asked)).json()
    fault = next(found for found in checked["findings"] if found["effect"] == "excludes" and found["topic"] == "grip")
    root = ElementTree.fromstring((await app.post("/v1/joints/drawing.svg", json=asked)).content)
    assert f"FAULT, grip: {fault['text']}".rstrip(".") in (root[1].text or "")
    assert "grip 1 9/16 in FAULT" in [element.text for element in root.iter(f"{SVG}text")]


async def test_a_joint_that_the_check_lets_pass_has_no_fault(app: httpx.AsyncClient) -> None:
    answer = await app.post(
        "/v1/joints/drawing.svg", json={**JOINT, "stack": [{"thickness": "0.75"}], "under_head": []}
    )
    assert "FAULT" not in answer.text


async def test_conditions_reach_the_drawing_s_check(app: httpx.AsyncClient) -> None:
    """Two threads in the hole of a thick plate: allowed in tension, never in shear (task 1-13 items 2 and 4)."""
    asked = {"fastener": "AN4-12A", "stack": [{"thickness": "0.87"}], "nut": "AN365-428A"}
    plain = await app.post("/v1/joints/drawing.svg", json=asked)
    shear = await app.post("/v1/joints/drawing.svg", json={**asked, "conditions": {"load": "shear"}})
    assert "Shear joint" not in plain.text
    assert "Shear joint" in shear.text


async def test_every_part_of_the_check_can_be_drawn(app: httpx.AsyncClient) -> None:
    asked = {
        "fastener": "AN4H12", "stack": [{"thickness": "0.75", "plus": "0.005", "minus": "0.005"}], "under_nut": ["AN960-416"],
        "nut": "AN310-4", "cotter_pin": "MS24665-132", "lockwire": "MS20995C32", "hole": {"value": "0.25", "plus": "0.003"},
        "nut_height": {"value": "0.28"}, "nut_slot_bottom": {"value": "0.19"}, "grip": {"value": "0.81"},
        "length": {"value": "1.28"}, "cotter_hole_from_point": {"value": "0.17"},
    }  # fmt: skip
    answer = await app.post("/v1/joints/drawing.svg", json=asked)
    assert answer.status_code == 200
    for words in (
        "cotter pin MS24665-132",
        "lockwire MS20995C32",
        "0.25 to 0.253",
        "0.745 to 0.755",
        "0.28 in measured",
    ):
        assert words in answer.text, words


@pytest.mark.parametrize("body", [b"{", b"[]", b"\xff"])
async def test_a_body_that_is_no_joint_is_a_problem(app: httpx.AsyncClient, body: bytes) -> None:
    answer = await app.post("/v1/joints/drawing.svg", content=body, headers={"content-type": "application/json"})
    assert answer.status_code in {400, 422}
    assert answer.headers["content-type"] == "application/problem+json"
