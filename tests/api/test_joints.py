"""The joint endpoints over HTTP: shapes, published worked examples, and refusals that explain."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import httpx
import pytest

from service.api.schemas.joints import CheckAnswer, PreloadAnswer, SettingAnswer, TorquesAnswer
from service.api.schemas.rivets import RivetCheckAnswer, RivetSelectAnswer
from service.api.schemas.selection import SelectAnswer
from service.api.schemas.sizes import GalvanicAnswer, HolesAnswer, ThreadAnswer

STACK = [{"thickness": 0.7, "material": "aluminium"}]


@pytest.mark.parametrize(
    ("url", "shape"),
    [
        ("/v1/torques?thread=1/4-28&nut=AN310-4", TorquesAnswer),
        ("/v1/torques?thread=10-32", TorquesAnswer),
        ("/v1/threads/1/4-28", ThreadAnswer),
        ("/v1/threads/1%2F4-28", ThreadAnswer),
        ("/v1/threads/10-32?series=UNJF", ThreadAnswer),
        ("/v1/holes?fastener=AN4-12A", HolesAnswer),
        ("/v1/holes?fastener=AN24-12", HolesAnswer),
        ("/v1/galvanic?a=cadmium&b=titanium", GalvanicAnswer),
    ],
)
async def test_what_is_asked_by_get_has_its_shape(app: httpx.AsyncClient, url: str, shape: Any) -> None:
    answer = await app.get(url)
    assert answer.status_code == 200, answer.text
    shape.model_validate(answer.json())
    assert answer.json()["notice"]


@pytest.mark.parametrize(
    ("url", "body", "shape"),
    [
        ("/v1/joints/check", {"fastener": "AN4-12A", "nut": "AN365-428A", "stack": STACK}, CheckAnswer),
        ("/v1/joints/check", {"fastener": "AN4-18A"}, CheckAnswer),
        ("/v1/joints/select", {"thread": "1/4-28", "stack": STACK}, SelectAnswer),
        ("/v1/joints/select", {"diameter": ".25", "stack": [{"thickness": 9}]}, SelectAnswer),
        ("/v1/torques/setting", {"thread": "1/4-28", "nut": "tension", "castellated": True}, SettingAnswer),
        ("/v1/torques/preload", {"thread": "3/8-24", "nut": "tension"}, PreloadAnswer),
        ("/v1/rivets/select", {"sheets": [".04", ".04"], "head": "flush"}, RivetSelectAnswer),
        ("/v1/rivets/check", {"rivet": "MS20470AD4-4", "sheets": [0.032, 0.032]}, RivetCheckAnswer),
    ],
)
async def test_what_is_asked_by_post_has_its_shape(app: httpx.AsyncClient, url: str, body: Any, shape: Any) -> None:
    answer = await app.post(url, json=body)
    assert answer.status_code == 200, answer.text
    shape.model_validate(answer.json())
    assert answer.json()["notice"]


async def test_a_number_that_cannot_be_read_is_a_finding_with_its_reason(app: httpx.AsyncClient) -> None:
    answer = (await app.post("/v1/joints/check", json={"fastener": "AN4-18A", "nut": "AN365-428A"})).json()
    assert answer["verdict"] == "unknown"
    found = next(finding for finding in answer["findings"] if finding["rule"] == "designation.not-made")
    assert "AN4-17A" in found["text"]


async def test_a_part_in_the_wrong_place_is_said(app: httpx.AsyncClient) -> None:
    answer = (await app.post("/v1/joints/check", json={"fastener": "AN4-12A", "nut": "AN960-416"})).json()
    assert answer["verdict"] == "unknown"
    assert "set.place" in {finding["rule"] for finding in answer["findings"]}


@pytest.mark.parametrize(
    "body",
    [
        {"fastener": "AN4-12A", "conditions": {"temprature": 1}},
        {"fastener": "AN4-12A", "conditions": {"load": "sideways"}},
        {"fastener": "AN4-12A", "stack": [{"thickness": 0}]},
        {"fastener": "AN4-12A", "stack": [{"thickness": 0.1, "minus": 0.1}]},
        {"fastener": "AN4-12A", "stack": [{"thickness": 0.1, "material": "cheese"}]},
        {"fastener": "AN4-12A", "nut": "AN365-428A", "plate_nut": "MS21047L4"},
    ],
)
async def test_a_question_that_makes_no_sense_is_refused(app: httpx.AsyncClient, body: Any) -> None:
    answer = await app.post("/v1/joints/check", json=body)
    assert answer.status_code == 422
    assert answer.json()["faults"]


@pytest.mark.parametrize(("degrees", "reading"), [(0, "117"), (180, "159"), (90, "135")])
async def test_the_published_adapter_example(app: httpx.AsyncClient, degrees: int, reading: str) -> None:
    """135 in-lb, a 10 in wrench and a 1.5 in adapter read 117 or 159 (a maintenance manual; AC 43.13-1B figure 7-2 from
    memory), and 135 square to the wrench (NAVEDTRA 14008 ch. 2)."""
    body = {
        "torque": {"low": 135, "high": 135},
        "wrench_length": 10,
        "adapter_length": 1.5,
        "adapter_degrees": degrees,
    }
    answer = (await app.post("/v1/torques/setting", json=body)).json()
    assert answer["set_to"]["low"] == answer["set_to"]["high"] == reading


async def test_drag_is_added_and_the_castellated_window_ends_at_maximum_plus_drag(app: httpx.AsyncClient) -> None:
    """AC 43.13-1B 7-40 d and f, table 7-1: 1/4-28 tension 50 to 70, at most 100."""
    body = {"thread": "1/4-28", "nut": "AN310-4", "drag": 8, "castellated": True}
    answer = (await app.post("/v1/torques/setting", json=body)).json()
    assert (answer["with_drag"]["low"], answer["with_drag"]["high"]) == ("58", "78")
    assert (answer["castellated"]["start"], answer["castellated"]["limit"]) == ("58", "108")


async def test_a_rounded_range_never_reaches_outside_the_exact_one(app: httpx.AsyncClient) -> None:
    body = {"thread": "1/4-28", "nut": "tension", "unit": "N.m", "places": 1}
    answer = (await app.post("/v1/torques/setting", json=body)).json()
    newton_metres = Fraction("0.0254") * Fraction("0.45359237") * Fraction("9.80665")
    assert Fraction(answer["set_to"]["low"]) >= 50 * newton_metres
    assert Fraction(answer["set_to"]["high"]) <= 70 * newton_metres


async def test_a_printed_slip_keeps_its_printed_value_and_is_flagged(app: httpx.AsyncClient) -> None:
    """AC 43.13-1B table 7-1 prints 600 for 5/8-18 shear low; 660 is believed."""
    answer = (await app.get("/v1/torques?thread=5/8-18&nut=shear&document=ac43.13-1b-table-7-1")).json()
    row = next(r for r in answer["documents"][0]["rows"] if r["range"] == "recommended")
    assert (row["low"], row["believed_low"], row["printed_slip"]) == ("600", "660", True)


async def test_documents_are_never_blended(app: httpx.AsyncClient) -> None:
    answer = (await app.get("/v1/torques?thread=10-32")).json()
    assert len(answer["documents"]) > 2
    for document in answer["documents"]:
        assert {row["document"] for row in document["rows"]} == {document["document"]}


async def test_a_preload_is_marked_as_an_estimate_with_the_tables_warning(app: httpx.AsyncClient) -> None:
    answer = (await app.post("/v1/torques/preload", json={"thread": "3/8-24", "nut": "tension"})).json()
    assert answer["estimate"] is True
    assert answer["warnings"]
    assert all(int(e["least_with_scatter"]) <= int(e["least"]) <= int(e["most"]) for e in answer["estimates"])


async def test_the_letter_drill_rule_is_given_only_where_a_row_holds_it(app: httpx.AsyncClient) -> None:
    """AC 43.13-1B 7-39: F for a general 1/4 bolt; clevis bolts are excepted, and No. 10 would jump to A."""
    texts = [
        (await app.get(f"/v1/holes?fastener={n}")).json()["letter_drill_rule"]
        for n in ("AN4-12A", "AN24-12", "AN3-12A")
    ]
    assert "F, 0.257" in texts[0]
    assert all(text.startswith("No row") for text in texts[1:])


async def test_two_metals_read_the_same_either_way_round(app: httpx.AsyncClient) -> None:
    there = (await app.get("/v1/galvanic?a=aluminium&b=stainless")).json()
    back = (await app.get("/v1/galvanic?a=stainless&b=aluminium")).json()
    assert there["verdict"] == back["verdict"] == "isolate"


async def test_a_weaker_basis_than_asked_is_not_used(app: httpx.AsyncClient) -> None:
    answer = (
        await app.post("/v1/joints/check?basis=published", json={"fastener": "AN4-12A", "nut": "AN365-428A"})
    ).json()
    assert {f["basis"] for f in answer["findings"] if f["basis"]} == {"published"}


async def test_every_set_of_a_selection_passes_the_check_over_http(app: httpx.AsyncClient) -> None:
    conditions = {"temperature": 180, "rotates": False}
    sets = (
        await app.post("/v1/joints/select", json={"thread": "1/4-28", "stack": STACK, "conditions": conditions})
    ).json()
    assert sets["sets"]
    for chosen in sets["sets"]:
        places = {k: chosen[k] for k in ("fastener", "under_head", "under_nut", "nut", "cotter_pin")}
        check = (await app.post("/v1/joints/check", json={**places, "stack": STACK, "conditions": conditions})).json()
        assert check["verdict"] == chosen["verdict"]


PLATES = [{"thickness": ".5", "material": "aluminium"}]


async def test_a_load_selects_the_thinnest_bolt_that_carries_it_and_names_its_row(app: httpx.AsyncClient) -> None:
    """2000 lbf limit x 1.5 in single shear: over the 2125 lbf of an AN3, under the 3680 lbf of an AN4 (MIL-HDBK-5)."""
    body = {
        "stack": PLATES,
        "load": {"basis": "limit", "shear": 2000, "factor": 1.5},
        "prefer": {"bolt_families": ["AN3-AN20"], "materials": ["steel"]},
    }
    answer = (await app.post("/v1/joints/select", json=body)).json()
    assert {found["fastener"].split("-")[0] for found in answer["sets"]} == {"AN4"}
    for found in answer["sets"]:
        (shear,) = found["carrying"]["by_kind"]
        assert (shear["needed"], shear["allowed"]) == ("3000", "3680")
        assert shear["source"]
        assert shear["row"]
    assert answer["too_weak"][0]["number"].startswith("AN3")
    assert answer["joint"]["load"] == "shear"


async def test_a_selection_says_what_its_parts_weigh_and_what_it_left_out(app: httpx.AsyncClient) -> None:
    body = {"stack": PLATES, "diameter": ".25", "limit": 1, "prefer": {"bolt_families": ["NAS6203-NAS6210"]}}
    mass = (await app.post("/v1/joints/select", json=body)).json()["sets"][0]["mass"]
    known = [part for part in mass["parts"] if part["mass"] is not None]
    unknown = [part for part in mass["parts"] if part["mass"] is None]
    assert float(mass["pounds"]) == pytest.approx(sum(float(part["mass"]) for part in known), abs=1e-5)
    assert mass["complete"] is (not unknown)
    assert all(part["why_not"] and part["number"] in mass["display"] for part in unknown)


async def test_a_plate_nut_set_has_its_own_place(app: httpx.AsyncClient) -> None:
    body = {"stack": PLATES, "thread": "1/4-28", "prefer": {"holding": "plate_nut"}, "limit": 1}
    found = (await app.post("/v1/joints/select", json=body)).json()["sets"][0]
    assert found["nut"] is None
    assert found["plate_nut"]
    again = {"fastener": found["fastener"], "under_head": found["under_head"], "plate_nut": found["plate_nut"]}
    checked = (await app.post("/v1/joints/check", json={**again, "stack": PLATES})).json()
    assert checked["verdict"] == found["verdict"]


@pytest.mark.parametrize(
    ("change", "at"),
    [
        ({"thread": "M6"}, "thread"),
        ({"thread": "1/4-28", "diameter": ".5"}, "diameter"),
        ({"diameter": None}, "thread"),
        ({"prefer": {"materials": ["wood"]}}, "prefer/materials"),
        ({"prefer": {"nut_families": ["AN0"]}}, "prefer/nut_families"),
        ({"load": {"basis": "ultimate"}}, "load"),
        ({"load": {"basis": "limit", "shear": 10}}, "load/factor"),
        ({"load": {"basis": "limit", "shear": 10, "factor": ".9"}}, "load/factor"),
        ({"load": {"basis": "ultimate", "shear": 10}, "conditions": {"load": "tension"}}, "conditions/load"),
        ({"nut_height": {"value": ".3", "minus": ".3"}}, "nut_height/minus"),
    ],
)
async def test_a_selection_that_makes_no_sense_says_where(app: httpx.AsyncClient, change: Any, at: str) -> None:
    answer = await app.post("/v1/joints/select", json={"stack": PLATES, "diameter": ".25", **change})
    assert answer.status_code == 422
    assert at in {fault["at"] for fault in answer.json()["faults"]}


async def test_what_was_measured_stands_instead_of_the_tables(app: httpx.AsyncClient) -> None:
    """1 1/32 less .5625 less .063 leaves about .406 in for nut and thread: a nut .3 high shows .1, one .45 high nothing."""
    base = {"fastener": "AN4-10A", "under_nut": ["AN960-416"], "nut": "AN365-428A", "stack": [{"thickness": ".5625"}]}
    low, high = [
        (await app.post("/v1/joints/check", json={**base, "nut_height": {"value": value}})).json()
        for value in (".3", ".45")
    ]
    faults = [{f["rule"] for f in answer["findings"] if f["severity"] == "fault"} for answer in (low, high)]
    assert "protrusion.one-thread" not in faults[0]
    assert "protrusion.one-thread" in faults[1]


async def test_a_makers_torque_in_newton_metres_is_set_in_any_unit(app: httpx.AsyncClient) -> None:
    """1 lbf = 4.4482216152605 N and 1 in = .0254 m exactly: 5.65 to 7.91 N.m is 50.007 to 70.009 in-lb."""
    body = {"torque": {"low": "5.65", "high": "7.91"}, "drag": "1.13", "given_unit": "N.m", "unit": "[in_i].[lbf_av]"}
    answer = (await app.post("/v1/torques/setting", json=body)).json()
    inch_pound = 0.0254 * 4.4482216152605
    assert float(answer["torque"]["low"]) == pytest.approx(5.65 / inch_pound, abs=1e-5)
    assert float(answer["with_drag"]["high"]) == pytest.approx((7.91 + 1.13) / inch_pound, abs=1e-5)
    assert (answer["set_to"]["low"], answer["set_to"]["high"]) == ("61", "80")
    metric = (await app.post("/v1/torques/setting", json={**body, "unit": "N.m"})).json()
    assert (metric["set_to"]["low"], metric["set_to"]["high"]) == ("6.8", "9")


async def test_a_limit_that_hangs_on_a_size_not_given_stays_unworked(app: httpx.AsyncClient) -> None:
    """AC 43.13-1B 4-58 l: a stringer's rivet is 2 to 3 times the leg's thickness and at most a quarter of its width."""
    bare, full = [
        {
            (row["quantity"], row["limit"]): row["inches"]
            for row in (await app.post("/v1/rivets/select", json={"sheets": [".032"], **more})).json()["diameters"]
            if "stringer" in row["practice"]
        }
        for more in ({}, {"leg_thickness": ".05", "leg_width": ".6"})
    ]
    assert set(bare.values()) == {None}
    assert full[("diameter_over_leg_thickness", "min")] == "0.1"
    assert full[("diameter_over_leg_thickness", "max")] == "0.15"
    assert full[("diameter_over_leg_width", "max")] == "0.15"


async def test_a_series_written_behind_a_thread_counts(app: httpx.AsyncClient) -> None:
    """UNJ keeps the pitch diameter of UN and has the larger root (ASME B1.15)."""
    plain, rounded = [(await app.get(f"/v1/threads/{text}")).json() for text in ("1/4-28", "1/4-28 UNJF-3A")]
    assert (plain["form"], rounded["form"], rounded["series"]) == ("UN", "UNJ", "UNJF")
    figures = [
        {f["quantity"]: f["by_formula"] for f in answer["figures"] if not f["thread_class"]}
        for answer in (plain, rounded)
    ]
    assert figures[0]["pitch_diameter"] == figures[1]["pitch_diameter"]
    assert float(figures[1]["minor_diameter_internal"]) > float(figures[0]["minor_diameter_internal"])
    assert (await app.get("/v1/threads/1/4-28 UNF?series=UNC")).status_code == 404
    assert (await app.get("/v1/threads/1/4-28 XYZ")).status_code == 404


async def test_a_rivet_has_its_own_holes(app: httpx.AsyncClient) -> None:
    """MIL-HDBK-5: a 1/8 in rivet is driven in a .1285 in hole, drill 30."""
    answer = (await app.get("/v1/holes", params={"fastener": "MS20470AD4-4"})).json()
    found = {(row["quantity"], row["value"]) for row in answer["rivet_holes"] if row["source"] == "mil-hdbk-5j"}
    assert {("drill", "30"), ("hole_nominal", "0.1285")} <= found
    assert (await app.get("/v1/holes", params={"fastener": "AN4-12A"})).json()["rivet_holes"] == []
