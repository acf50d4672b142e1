"""The counter page: static files of service/counter/, read once, served with a policy that lets nothing in from outside."""

from __future__ import annotations

import gzip
import hashlib
import json
from dataclasses import dataclass
from pathlib import Path

from fastapi import FastAPI
from starlette.requests import Request
from starlette.responses import Response

from service.api.problems import Problem

#: 'wasm-unsafe-eval' lets a browser without a bar code reader of its own run the one in scanner/; no text is ever run as script
POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; media-src 'self' blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
#: what the page may ask of the device: the camera for its own scanning, nothing else
PERMISSIONS = "camera=(self), microphone=(), geolocation=()"
_HOME = Path(__file__).resolve().parents[1] / "counter"
_ENTRY = "index.html"
_WORKER = "sw.js"
_MEDIA = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".wasm": "application/wasm",
    ".txt": "text/plain; charset=utf-8",
}
#: kept by the service worker only once used: the bar code reader, and pictures for the list of apps
_LATER = ("scanner/", "pictures/")
#: already compressed
_PACKED = {".png"}


@dataclass(frozen=True, slots=True)
class CounterFile:
    """One file as it leaves the service: plain and, where that is shorter, compressed."""

    media: str
    body: bytes
    packed: bytes | None
    etag: str


def add_to(app: FastAPI) -> None:
    """Serve the page at ``/counter`` and its files below it. Raises OSError when the page's files are missing."""
    files = read_files(_HOME)

    async def serve(request: Request, path: str = "") -> Response:
        found = files.get(path or _ENTRY)
        if found is None:
            raise Problem("not-found", f"The counter page has no file {path!r}.")
        return _answer(found, path or _ENTRY, request)

    for route in ("/counter", "/counter/{path:path}"):
        app.add_api_route(route, serve, methods=["GET", "HEAD"], include_in_schema=False)


def read_files(home: Path) -> dict[str, CounterFile]:
    """Every file of the page by its path below ``home``. The service worker is told the list and a digest of it.

    The digest stands in the worker's own text, so a changed file is a changed worker, which is how a browser notices.
    """
    bodies = {
        path.relative_to(home).as_posix(): path.read_bytes()
        for path in sorted(home.rglob("*"))
        if path.is_file() and path.suffix in _MEDIA
    }
    total = hashlib.sha256()
    for name, body in bodies.items():
        total.update(name.encode() + b"\0" + hashlib.sha256(body).digest())
    if _WORKER in bodies:
        shell = {"digest": total.hexdigest()[:16], "files": [name for name in bodies if _in_shell(name)]}
        bodies[_WORKER] = f"const SHELL = {json.dumps(shell)};\n".encode() + bodies[_WORKER]
    return {name: _file(name, body) for name, body in bodies.items()}


def _in_shell(name: str) -> bool:
    return name not in {_WORKER, _ENTRY} and not name.startswith(_LATER)


def _file(name: str, body: bytes) -> CounterFile:
    suffix = Path(name).suffix
    packed = None if suffix in _PACKED else gzip.compress(body, 9, mtime=0)
    if packed is not None and len(packed) >= len(body):
        packed = None
    return CounterFile(_MEDIA[suffix], body, packed, hashlib.sha256(body).hexdigest()[:20])


def _answer(file: CounterFile, name: str, request: Request) -> Response:
    squeeze = file.packed is not None and "gzip" in request.headers.get("accept-encoding", "")
    tag = f'"{file.etag}{".gz" if squeeze else ""}"'
    headers = {
        "etag": tag,
        "cache-control": "no-cache",
        "vary": "accept-encoding",
        "content-security-policy": POLICY,
        "permissions-policy": PERMISSIONS,
        "x-content-type-options": "nosniff",
        "referrer-policy": "no-referrer",
    }
    if name == _WORKER:  # the page stands at /counter, one step above the worker's own folder
        headers["service-worker-allowed"] = "/counter"
    asked = request.headers.get("if-none-match", "")
    if tag in {part.strip().removeprefix("W/") for part in asked.split(",")}:
        return Response(status_code=304, headers=headers)
    if squeeze:
        headers["content-encoding"] = "gzip"
    body = file.packed if squeeze and file.packed is not None else file.body
    # the media type is set as a header: Response would add a charset of its own
    return Response(body, headers={**headers, "content-type": file.media})
