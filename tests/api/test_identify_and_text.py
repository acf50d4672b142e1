"""Identify and text over HTTP."""

from __future__ import annotations

import httpx
import pytest

READINGS = [
    {"quantity": "nominal_diameter", "value": "0.2475", "unit": "[in_i]", "uncertainty": "0.002"},
    {"quantity": "grip_length", "value": "20.6", "unit": "mm", "uncertainty": "0.2"},
]


async def test_readings_in_inches_and_millimetres_find_the_bolt(app: httpx.AsyncClient) -> None:
    asked = {
        "kind": "bolt",
        "readings": READINGS,
        "threads_per_inch": 28,
        "head_mark": "asterisk",
        "magnetic": True,
        "limit": 3,
    }
    answer = await app.post("/v1/parts/identify", json=asked)
    assert answer.status_code == 200
    body = answer.json()
    first = body["candidates"][0]
    assert first["example"].startswith("AN4-12")
    assert first["standing"] == "agrees"
    assert all(e["row"] and e["source"] for e in first["evidence"] if e["verdict"] != "says nothing")
    assert body["more"] is True
    assert "not approved data" in body["notice"]


async def test_looks_alone_come_with_a_warning(app: httpx.AsyncClient) -> None:
    body = (await app.post("/v1/parts/identify", json={"head_mark": "dimple"})).json()
    assert {c["standing"] for c in body["candidates"]} == {"undecided"}
    assert "never decide" in body["warnings"][0]


@pytest.mark.parametrize(
    "asked",
    [
        {},
        {"readings": [{"quantity": "head_angle", "value": 100, "uncertainty": 0}]},
        {"readings": [{"quantity": "length", "value": "-1", "uncertainty": 0}]},
        {"readings": [READINGS[0], READINGS[0]]},
        {"readings": [{"quantity": "length", "value": 1, "uncertainty": "0.6"}]},
        {"thread": "1/4-28", "surprise": 1},
    ],
)
async def test_what_cannot_be_asked_is_refused(app: httpx.AsyncClient, asked: dict[str, object]) -> None:
    answer = await app.post("/v1/parts/identify", json=asked)
    assert answer.status_code == 422
    assert answer.json()["type"] == "/problems/bad-body"


async def test_plain_text_and_json_give_the_same(app: httpx.AsyncClient) -> None:
    text = "Fit 4 ea AN3-5A; AN960-10, -10L (8); AN3-8A and NAS99999-4"
    plain = await app.post("/v1/text/parts", content=text, headers={"content-type": "text/plain"})
    json = await app.post("/v1/text/parts", json={"text": text})
    assert plain.json() == json.json()
    parts = json.json()["parts"]
    assert [(p["number"], p["quantity"]) for p in parts[:3]] == [("AN3-5A", 4), ("AN960-10", None), ("AN960-10L", 8)]
    assert parts[3]["outcome"] == "not-made"
    assert parts[3]["problem"]["neighbours"]
    assert all(text[p["start"] : p["end"]] == p["as_written"] for p in parts)
    assert "NAS99999-4" in str(json.json())


async def test_a_bar_code_payload_is_taken_apart(app: httpx.AsyncClient) -> None:
    label = "[)>\x1e06\x1d1PAN4-12A\x1d1TB1234\x1dQ25\x1e\x04"
    body = (await app.post("/v1/text/parts", content=label, headers={"content-type": "text/plain"})).json()
    (part,) = body["parts"]
    assert (part["number"], part["quantity"], part["lot"], part["origin"]) == ("AN4-12A", 25, "B1234", "bar code")


async def test_a_text_with_too_much_in_it_is_refused(app: httpx.AsyncClient) -> None:
    many = await app.post("/v1/text/parts", json={"text": "AN3-5A " * 1001})
    assert (many.status_code, many.json()["limit"]) == (413, 1000)
    long = await app.post("/v1/text/parts", content="a " * 100_001, headers={"content-type": "text/plain"})
    assert long.status_code == 413
    assert (
        await app.post("/v1/text/parts", content="a " * 100_000, headers={"content-type": "text/plain"})
    ).status_code == 200
