"""HTTP as it is meant: validators, negotiation, HEAD, the cache in front, pages bound to a release."""

from __future__ import annotations

import csv
import io

import httpx
import pytest
from fastapi import FastAPI

from service.api.desk import Desk
from service.api.paging import cursor_of
from service.app import over_desk
from service.tables.rows import Fact, Law

URLS = [
    "/v1/parts/AN4-12A",
    "/v1/parts/AN4-12A?basis=published",
    "/v1/parts/AN4-12A/mates",
    "/v1/parts/AN365-1032A/equivalents",
    "/v1/families",
    "/v1/tables/laws",
    "/v1/release",
]


@pytest.mark.parametrize("url", URLS)
async def test_the_etag_gives_304_without_a_body(app: httpx.AsyncClient, url: str) -> None:
    first = await app.get(url)
    etag = first.headers["etag"]
    assert etag.startswith('"')
    assert etag.endswith('"')
    for tag in (etag, f"W/{etag}", f'"other", {etag}'):
        again = await app.get(url, headers={"if-none-match": tag})
        assert (again.status_code, again.content) == (304, b"")
        assert again.headers["etag"] == etag
        assert "content-type" not in again.headers
    changed = await app.get(url, headers={"if-none-match": '"another"'})
    assert (changed.status_code, changed.content) == (200, first.content)


@pytest.mark.parametrize("url", ["/v1/release", "/v1/parts/AN4-12A"])
async def test_any_current_representation_answers_a_star(app: httpx.AsyncClient, url: str) -> None:
    """RFC 9110, 13.1.2: If-None-Match: * is false when there is a representation, so a GET gives 304."""
    assert (await app.get(url, headers={"if-none-match": "*"})).status_code == 304


async def test_a_post_is_never_answered_304(app: httpx.AsyncClient) -> None:
    """RFC 9110, 13.1.2: 304 is for GET and HEAD; what a POST asked is in its body, which no tag of ours knows."""
    first = await app.post("/v1/parts/decode", json={"numbers": ["AN4-12A"]})
    tag = first.headers.get("etag", '"x"')
    again = await app.post("/v1/parts/decode", json={"numbers": ["AN365-1032A"]}, headers={"if-none-match": tag})
    assert again.status_code != 304


async def test_the_etag_is_of_release_and_representation(app: httpx.AsyncClient, desk: Desk) -> None:
    json = await app.get("/v1/tables/laws")
    sheet = await app.get("/v1/tables/laws", headers={"accept": "text/csv"})
    assert json.headers["etag"] != sheet.headers["etag"]
    assert desk.catalogue.digest[:20] in json.headers["etag"]
    assert (
        await app.get("/v1/tables/laws", headers={"accept": "text/csv", "if-none-match": json.headers["etag"]})
    ).status_code == 200


async def test_what_is_negotiated_is_in_vary(app: httpx.AsyncClient) -> None:
    for headers in ({}, {"accept": "text/csv"}):
        vary = (await app.get("/v1/tables/laws", headers=headers)).headers["vary"].lower()
        assert {word.strip() for word in vary.split(",")} == {"accept", "accept-encoding"}
    assert (await app.get("/v1/parts/AN4-12A")).headers["vary"].lower() == "accept-encoding"
    assert (await app.get("/problems/not-made")).headers["vary"].lower() == "accept"


@pytest.mark.parametrize(
    ("accept", "media"),
    [
        ("text/csv", "text/csv; charset=utf-8"),
        ("text/csv;q=0.5, application/json;q=0.9", "application/json"),
        ("text/*", "text/csv; charset=utf-8"),
        ("*/*;q=0.1, text/csv", "text/csv; charset=utf-8"),
        ("*/*", "application/json"),
        ("image/png, */*;q=0.1", "application/json"),
        ("application/json;q=0, */*", "text/csv; charset=utf-8"),
    ],
)
async def test_the_best_acceptable_representation_is_sent(app: httpx.AsyncClient, accept: str, media: str) -> None:
    answer = await app.get("/v1/tables/laws?limit=2", headers={"accept": accept})
    assert (answer.status_code, answer.headers["content-type"]) == (200, media)


@pytest.mark.parametrize("url", [*URLS, "/livez", "/readyz"])
async def test_head_has_the_headers_of_get_and_no_body(app: httpx.AsyncClient, url: str) -> None:
    for coding in ("identity", "gzip"):
        headers = {"accept-encoding": coding}
        get, head = await app.get(url, headers=headers), await app.head(url, headers=headers)
        assert head.status_code == 200
        assert head.content == b""
        assert dict(head.headers) == dict(get.headers)
        if coding == "identity":
            assert int(head.headers["content-length"]) == len(get.content)


@pytest.mark.parametrize(
    "url", ["/v1/parts/AN4-12A/mates", "/v1/tables/laws?limit=200", "/v1/parts/AN4-12A/drawing.svg"]
)
async def test_a_long_answer_is_packed_for_whoever_takes_it_under_a_tag_of_its_own(
    app: httpx.AsyncClient, url: str
) -> None:
    """RFC 9110, 8.8.3: other bytes, another tag; each tag is answered 304 where its own bytes would be sent."""
    plain, packed = [await app.get(url, headers={"accept-encoding": coding}) for coding in ("identity", "gzip")]
    assert plain.content == packed.content
    assert "content-encoding" not in plain.headers
    assert packed.headers["content-encoding"] == "gzip"
    assert int(packed.headers["content-length"]) * 2 < len(plain.content)
    assert plain.headers["etag"] != packed.headers["etag"]
    for coding, answer, other in (("identity", plain, packed), ("gzip", packed, plain)):
        for tag, status in ((answer.headers["etag"], 304), (other.headers["etag"], 200)):
            again = await app.get(url, headers={"accept-encoding": coding, "if-none-match": tag})
            assert again.status_code == status


@pytest.mark.parametrize(
    ("asked", "gets"),
    [("gzip;q=0", False), ("br, gzip;q=0.5", True), ("*", True), ("*;q=0", False), ("deflate", False), ("GZIP", True),
     ("gzip;q=x", False)],
)  # fmt: skip
async def test_who_gets_a_packed_answer(app: httpx.AsyncClient, asked: str, gets: bool) -> None:
    """RFC 9110, 12.5.3."""
    answer = await app.get("/v1/parts/AN4-12A", headers={"accept-encoding": asked})
    assert ("content-encoding" in answer.headers) is gets


async def test_an_answer_of_one_packet_is_not_packed(app: httpx.AsyncClient) -> None:
    answer = await app.get("/v1/parts/AN4-99A", headers={"accept-encoding": "gzip"})
    assert len(answer.content) < 1400
    assert "content-encoding" not in answer.headers


async def test_a_long_answer_to_a_question_in_a_body_is_packed_too(app: httpx.AsyncClient) -> None:
    ask = {"stack": [{"thickness": 0.5}], "thread": "1/4-28"}
    answer = await app.post("/v1/joints/select", json=ask, headers={"accept-encoding": "gzip"})
    assert answer.headers["content-encoding"] == "gzip"
    assert answer.headers["cache-control"] == "no-store"


async def test_health_is_never_kept(app: httpx.AsyncClient) -> None:
    for url in ("/livez", "/readyz"):
        answer = await app.get(url)
        assert answer.headers["cache-control"] == "no-store"
        assert "etag" not in answer.headers


CACHED = [
    *(
        (url, accept)
        for url in [*URLS, "/v1/tables/facts?limit=3&cells[scope]=AN960", "/v1/parts/AN4-18A", "/v1/parts/AN4-12A?bad=1"]
        for accept in ("*/*", "application/json")
    ),
    ("/v1/tables/facts?limit=3&cells[scope]=AN960", "text/csv"),
    ("/v1/parts/AN4-12A", "text/csv"),
]  # fmt: skip


@pytest.mark.parametrize(("url", "accept"), CACHED)
async def test_the_cache_in_front_is_byte_identical_to_the_route_without_it(
    app: httpx.AsyncClient, desk: Desk, url: str, accept: str
) -> None:
    bare = over_desk(desk)
    headers = {"accept": accept}
    async with httpx.AsyncClient(transport=httpx.ASGITransport(app=bare), base_url="http://gripledger.test") as client:
        expected = await client.get(url, headers=headers)
        tag = expected.headers.get("etag", '"none"')
        expected_304 = await client.get(url, headers={**headers, "if-none-match": tag})
    for _ in range(2):  # the first may fill the cache, the second comes out of it
        found = await app.get(url, headers=headers)
        assert (found.status_code, found.content) == (expected.status_code, expected.content)
        assert sorted(found.headers.raw) == sorted(expected.headers.raw)
        again = await app.get(url, headers={**headers, "if-none-match": tag})
        assert (again.status_code, again.content) == (expected_304.status_code, expected_304.content)
        assert sorted(again.headers.raw) == sorted(expected_304.headers.raw)


async def test_the_cache_keeps_within_its_bytes(served: FastAPI) -> None:
    from service.api.cache import ReadyAnswers

    cache = ReadyAnswers(over_desk(served.state.desk), limit=200_000)
    async with httpx.AsyncClient(transport=httpx.ASGITransport(app=cache), base_url="http://gripledger.test") as client:
        for eighths in range(3, 98):
            await client.get(f"/v1/parts/AN4-{eighths}A")
            assert cache.size <= 200_000
    assert cache.size > 0


async def test_a_batch_keeps_its_order_and_its_doubles(app: httpx.AsyncClient) -> None:
    numbers = ["AN4-12A", "AN365-1032A", "nonsense", "AN4-12A", "an960 416"]
    results = (await app.post("/v1/parts/decode", json={"numbers": numbers})).json()["results"]
    assert [r["asked"] for r in results] == numbers
    assert [r["part"] and r["part"]["number"] for r in results] == [
        "AN4-12A",
        "AN365-1032A",
        None,
        "AN4-12A",
        "AN960-416",
    ]


async def test_a_part_in_a_batch_is_the_part_asked_alone(app: httpx.AsyncClient) -> None:
    alone = (await app.get("/v1/parts/AN4H12?basis=secondary")).json()
    (result,) = (await app.post("/v1/parts/decode?basis=secondary", json={"numbers": ["AN4H12"]})).json()["results"]
    assert {**result["part"], "notice": alone["notice"], "release": alone["release"]} == alone


@pytest.mark.parametrize(
    ("media", "body"),
    [
        ("text/plain", "AN4-12A\r\n\r\n  AN365-1032A \n"),
        ("text/plain; charset=utf-8", "\ufeffAN4-12A\nAN365-1032A"),
        ("text/csv", "bag,Number,count\r\n7,AN4-12A,2\r\n8,AN365-1032A,1\r\n"),
        ("text/csv", "AN4-12A,first\nAN365-1032A,second\n"),
        ("text/csv", 'number\n"AN4-12A"\n"AN365-1032A"\n'),
    ],
)
async def test_lines_and_sheets_are_read_as_numbers(app: httpx.AsyncClient, media: str, body: str) -> None:
    answer = await app.post("/v1/parts/decode", content=body.encode(), headers={"content-type": media})
    assert [r["part"]["number"] for r in answer.json()["results"]] == ["AN4-12A", "AN365-1032A"]


async def test_a_batch_comes_back_as_csv(app: httpx.AsyncClient, desk: Desk) -> None:
    numbers = ["AN4-12A", "AN4-18A", "=1+1", "AN960-416"]
    answer = await app.post("/v1/parts/decode", json={"numbers": numbers}, headers={"accept": "text/csv"})
    assert answer.headers["content-type"].startswith("text/csv")
    rows = list(csv.DictReader(io.StringIO(answer.text, newline="")))
    assert [r["outcome"] for r in rows] == ["decoded", "not-made", "unreadable", "decoded"]
    assert rows[0]["grip_length"] == "0.8125"
    assert rows[1]["neighbours"] == "AN4-17A AN4-20A"
    assert rows[2]["asked"] == "'=1+1", "a spreadsheet must not run what somebody typed"
    assert {r["release"] for r in rows} == {desk.catalogue.digest}


async def test_a_csv_cell_that_begins_with_a_minus_is_no_formula(app: httpx.AsyncClient) -> None:
    answer = await app.post("/v1/parts/decode", json={"numbers": ["-1+cmd", "\r=1"]}, headers={"accept": "text/csv"})
    rows = list(csv.DictReader(io.StringIO(answer.text, newline="")))
    assert not [r["asked"] for r in rows if r["asked"][:1] in {"-", "\r", "="}]


@pytest.mark.parametrize("media", ["application/json", "text/plain"])
async def test_a_batch_holds_a_thousand_and_not_one_more(app: httpx.AsyncClient, media: str) -> None:
    async def post(count: int) -> httpx.Response:
        if media == "text/plain":
            return await app.post("/v1/parts/decode", content="AN4-12A\n" * count, headers={"content-type": media})
        return await app.post("/v1/parts/decode", json={"numbers": ["AN4-12A"] * count})

    assert len((await post(1000)).json()["results"]) == 1000
    over = await post(1001)
    assert over.status_code == 413, over.text[:200]
    assert over.json()["type"] == "/problems/too-many"
    assert over.json()["limit"] == 1000


async def test_a_body_that_is_too_large_is_not_read(app: httpx.AsyncClient) -> None:
    answer = await app.post("/v1/parts/decode", content=b"A" * ((1 << 20) + 1), headers={"content-type": "text/plain"})
    assert answer.status_code == 413


async def test_a_table_is_paged_through_without_loss_or_double(app: httpx.AsyncClient, desk: Desk) -> None:
    url: str | None = "/v1/tables/laws?limit=40&cells[attribute]=length"
    keys: list[str] = []
    while url:
        answer = await app.get(url)
        body = answer.json()
        keys += [item["row"] for item in body["items"]]
        link = answer.headers.get("link", "")
        assert bool(link) == (body["next"] is not None)
        if link:
            assert link.endswith('; rel="next"')
            assert "cells" in link
        url = link[1 : link.index(">")] if link else None
    assert keys == [law.row for law in desk.catalogue.package.of(Law) if law.attribute == "length"]


async def test_families_are_paged_through(app: httpx.AsyncClient, desk: Desk) -> None:
    url: str | None = "/v1/families?limit=50"
    found: list[str] = []
    while url:
        answer = await app.get(url)
        found += [item["family"] for item in answer.json()["items"]]
        link = answer.headers.get("link", "")
        url = link[1 : link.index(">")] if link else None
    assert found == list(desk.catalogue.families)


async def test_the_kind_filter_stays_in_the_link(app: httpx.AsyncClient, desk: Desk) -> None:
    first = await app.get("/v1/families?kind=nut&limit=3")
    link = first.headers["link"]
    second = await app.get(link[1 : link.index(">")])
    assert {item["kind"] for item in second.json()["items"]} == {"nut"}


@pytest.mark.parametrize("path", ["/v1/families", "/v1/tables/facts", "/v1/rules"])
async def test_a_cursor_of_another_release_is_stale(app: httpx.AsyncClient, desk: Desk, path: str) -> None:
    stale = await app.get(path, params={"cursor": cursor_of("0" * 64, 3)})
    assert (stale.status_code, stale.json()["type"]) == (410, "/problems/stale-cursor")
    assert (await app.get(path, params={"cursor": cursor_of(desk.catalogue.digest, 3)})).status_code == 200


@pytest.mark.parametrize("place", ["-5", "99999999999999999999999"])
async def test_a_cursor_with_an_impossible_place_is_refused_or_empty(
    app: httpx.AsyncClient, desk: Desk, place: str
) -> None:
    import base64

    cursor = base64.urlsafe_b64encode(f"{desk.catalogue.digest[:16]}.{place}".encode()).decode().rstrip("=")
    for path in ("/v1/families", "/v1/tables/facts"):
        answer = await app.get(path, params={"cursor": cursor})
        assert answer.status_code in {200, 400}, (path, answer.text[:200])


async def test_tables_are_filtered_by_cell_basis_and_file(app: httpx.AsyncClient, desk: Desk) -> None:
    facts = desk.catalogue.package.of(Fact)
    body = (await app.get("/v1/tables/facts?limit=500&cells[scope]=AN960&cells[attribute]=thickness")).json()
    assert [i["row"] for i in body["items"]] == [
        f.row for f in facts if f.scope == "AN960" and f.attribute == "thickness"
    ]
    body = (await app.get("/v1/tables/facts?limit=500&basis=published&file=washers/facts.csv")).json()
    assert {i["basis"] for i in body["items"]} <= {"published"}
    assert {i["file"] for i in body["items"]} <= {"washers/facts.csv"}
    body = (await app.get("/v1/tables/rules?limit=1&cells[row]=nut.insert.temperature")).json()
    assert body["items"][0]["text"].startswith("Keep")


async def test_a_table_as_csv_is_the_table(app: httpx.AsyncClient, desk: Desk) -> None:
    answer = await app.get("/v1/tables/laws?limit=5", headers={"accept": "text/csv"})
    rows = list(csv.DictReader(io.StringIO(answer.text, newline="")))
    laws = desk.catalogue.package.of(Law)[:5]
    assert [(r["row"], r["of"], r["factor"], r["note"]) for r in rows] == [
        (law.row, law.of, law.factor, law.note) for law in laws
    ]
    assert 'rel="next"' in answer.headers["link"]


async def test_the_list_of_tables_counts_what_the_copy_holds(app: httpx.AsyncClient, desk: Desk) -> None:
    assert desk.tables is not None
    counts = desk.tables.counts()
    for item in (await app.get("/v1/tables")).json()["items"]:
        assert item["rows"] == counts.get(item["name"], 0)


async def test_a_word_with_a_trailing_underscore_is_a_column_without(app: httpx.AsyncClient) -> None:
    items = {i["name"]: i["columns"] for i in (await app.get("/v1/tables")).json()["items"]}
    assert "with" in items["mates"]
    assert "set" in items["equivalences"]
    assert (await app.get("/v1/tables/mates?limit=1")).json()["items"][0].keys() == {"file", *items["mates"]}
