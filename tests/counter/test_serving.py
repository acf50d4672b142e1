"""How the page's files leave the service: policy, media types, tags. The policy's meaning is that of Content Security Policy Level 3."""

from __future__ import annotations

import json
import re
from pathlib import Path

import httpx
import pytest

HOME = Path(__file__).resolve().parents[2] / "service" / "counter"
MEDIA = {
    ".html": "text/html",
    ".css": "text/css",
    ".js": "text/javascript",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".wasm": "application/wasm",
    ".txt": "text/plain",
}
#: not kept by the worker before they are used
LATER = ("scanner/", "pictures/")


def shipped() -> list[str]:
    return sorted(p.relative_to(HOME).as_posix() for p in HOME.rglob("*") if p.is_file())


@pytest.mark.parametrize("name", shipped())
async def test_every_file_is_served_as_what_it_is_under_the_policy(app: httpx.AsyncClient, name: str) -> None:
    answer = await app.get(f"/counter/{name}")
    assert answer.status_code == 200
    assert answer.headers["content-type"].split(";")[0] == MEDIA[Path(name).suffix]
    assert answer.headers["x-content-type-options"] == "nosniff"
    policy = answer.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'")
    # a page's own WebAssembly may be compiled; no text may be run as script, none stand inline
    assert "unsafe" not in policy.replace("'wasm-unsafe-eval'", "")
    assert "script-src 'self' 'wasm-unsafe-eval';" in policy
    assert "http" not in policy
    assert "set-cookie" not in answer.headers


async def test_the_policy_lets_nothing_but_the_page_compile(app: httpx.AsyncClient) -> None:
    answer = await app.get("/v1/release")
    assert "wasm" not in answer.headers.get("content-security-policy", "")


async def test_a_known_tag_is_answered_without_a_body(app: httpx.AsyncClient) -> None:
    first = await app.get("/counter/style.css", headers={"accept-encoding": "gzip"})
    again = await app.get(
        "/counter/style.css", headers={"accept-encoding": "gzip", "if-none-match": first.headers["etag"]}
    )
    plain = await app.get("/counter/style.css", headers={"accept-encoding": "identity"})
    assert again.status_code == 304
    assert not again.content
    assert first.headers["content-encoding"] == "gzip"
    assert "content-encoding" not in plain.headers
    assert plain.content == first.content == (HOME / "style.css").read_bytes()
    assert plain.headers["etag"] != first.headers["etag"]


@pytest.mark.parametrize("name", ["missing.js", "../app.py", "..%2fapp.py", "views/"])
async def test_what_is_no_file_of_the_page_is_a_problem_document(app: httpx.AsyncClient, name: str) -> None:
    answer = await app.get(f"/counter/{name}")
    assert answer.status_code == 404
    assert answer.headers["content-type"].startswith("application/problem+json")


async def test_the_worker_is_told_every_file_of_the_shell_and_may_serve_the_page(app: httpx.AsyncClient) -> None:
    answer = await app.get("/counter/sw.js")
    told = json.loads(re.match(r"const SHELL = (\{.*\});\n", answer.text)[1])  # type: ignore[index]
    shell = {name for name in shipped() if not name.startswith(LATER)}
    assert set(told["files"]) == shell - {"sw.js", "index.html"}
    assert answer.headers["service-worker-allowed"] == "/counter"


def test_nothing_is_asked_of_anyone_else_and_nothing_runs_inline() -> None:
    html = (HOME / "index.html").read_text()
    assert not re.search(r"<script(?![^>]*\bsrc=)|<style|\son\w+=|\sstyle=", html)
    for name in shipped():
        if Path(name).suffix in {".js", ".css", ".html", ".webmanifest"}:
            outside = re.findall(r"""["'(]((?:https?:)?//[^"')\s]+)""", (HOME / name).read_text())
            assert not outside, name


async def test_every_module_named_by_another_is_there(app: httpx.AsyncClient) -> None:
    for name in shipped():
        if name.endswith(".js"):
            for target in re.findall(r"""(?:from|import)\s*\(?["'](\.[^"']+)["']""", (HOME / name).read_text()):
                assert (HOME / name).parent.joinpath(target).resolve().is_file(), (name, target)
