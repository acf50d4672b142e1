"""Speed, printed as ratios: ``python -m tests.bench.bench``. Loopback only, bounded in time, stops by itself.

Each HTTP figure is a ratio to a bare ASGI app that sends a fixed answer of the same size class, both served by uvicorn in one process a server, in
interleaved runs, so that a slow minute of the machine slows both.
"""

from __future__ import annotations

import asyncio
import random
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import islice, product
from pathlib import Path

import httpx

from service.api.desk import Desk
from service.app import over_desk
from service.catalogue.catalogue import Catalogue, build
from service.designation.reader import Reader
from service.settings import Settings
from service.tables.reading import Package, Sheet, read_package

ROUNDS = 5
SECONDS = 1.0
CONNECTIONS = 8


def numbers(catalogue: Catalogue, most: int = 3000) -> list[str]:
    """Numbers of every family, as many as ``most`` each, in a fixed random order."""
    found: list[str] = []
    for family in catalogue.families.values():
        for codes in islice(product(*(spec.codes for spec in family.slots)), most):
            if family.not_made(codes) is None:
                found.append(family.format(codes))
    random.Random(7).shuffle(found)
    return found


def decode_times(catalogue: Catalogue, asked: list[str]) -> list[float]:
    """Seconds for each number, the first time it is asked."""
    reader, clock = Reader(catalogue), time.perf_counter
    times = []
    for number in asked:
        begin = clock()
        reader.read(number)
        times.append(clock() - begin)
    return times


def inflated(package: Package, factor: int) -> Package:
    """The package with every fact said ``factor`` times over, under lower ranks: as if other sources agreed."""
    bigger = Package(package.folder)
    for sheet in package.sheets:
        rows, lines = sheet.rows, sheet.lines
        if sheet.table == "facts":
            copies = [
                row.model_copy(update={"row": f"{row.row}.{n}", "rank": "9"}) for n in range(factor - 1) for row in rows
            ]  # type: ignore[attr-defined]
            rows, lines = (*rows, *copies), lines * factor
        bigger.sheets.append(Sheet(sheet.table, sheet.file, rows, lines))
    return bigger


BARE = """
body = b'{' + b'"x":"' + b'y' * %d + b'"}'
head = {'type': 'http.response.start', 'status': 200, 'headers': [(b'content-type', b'application/json'), (b'content-length', str(len(body)).encode())]}
async def app(scope, receive, send):
    if scope['type'] != 'http':
        return
    await send(head)
    await send({'type': 'http.response.body', 'body': body})
"""


@contextmanager
def server(code: str, folder: Path) -> Iterator[int]:
    """A uvicorn process that serves ``app`` of ``code`` on a free loopback port."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    (folder / f"app{port}.py").write_text(code)
    command = [
        sys.executable, "-m", "uvicorn", f"app{port}:app", "--app-dir", str(folder), "--port", str(port), "--log-level", "error",
        "--no-access-log", "--no-server-header", "--no-date-header",
    ]  # fmt: skip
    process = subprocess.Popen(command)
    try:
        for _ in range(300):
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.05)
        yield port
    finally:
        process.terminate()
        process.wait(10)


async def _client(port: int, requests: Iterator[bytes], until: float) -> int:
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    done = 0
    while time.perf_counter() < until:
        writer.write(next(requests))
        head = await reader.readuntil(b"\r\n\r\n")
        length = head.lower().find(b"content-length:")
        if length >= 0:
            await reader.readexactly(int(head[length + 15 :].split(b"\r\n", 1)[0]))
        done += 1
    writer.close()
    return done


async def rate(port: int, requests: Iterator[bytes]) -> float:
    """Requests answered a second by ``CONNECTIONS`` clients in turn."""
    until = time.perf_counter() + SECONDS
    done = await asyncio.gather(*(_client(port, requests, until) for _ in range(CONNECTIONS)))
    return sum(done) / SECONDS


def forever(request: bytes) -> Iterator[bytes]:
    """The same request without end."""
    while True:
        yield request


def get(path: str, *headers: str) -> bytes:
    """A GET request."""
    return "\r\n".join([f"GET {path} HTTP/1.1", "host: x", *headers, "", ""]).encode()


def http_ratios(asked: list[str]) -> dict[str, float]:
    """Ratios to the bare app: ready answer, unchanged answer, decoding a number that was never asked before."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        home = Path(__file__).resolve().parents[2]
        ours = (
            f"import sys; sys.path.insert(0, {str(home)!r})\nfrom service.app import create_app\nfrom service.settings import Settings\n"
            f"app = create_app(Settings(database_url='sqlite:///{folder}/bench.sqlite'))\n"
        )
        desk = Desk.over(build(read_package(Settings().tables))[0], Settings())
        size = len(desk.writer.part(desk.part("AN4-12A", "from-memory")))
        with server(ours, folder) as port, server(BARE % size, folder) as bare:
            tag = asyncio.run(_etag(port))
            half = len(asked) // 2
            first = (get(f"/v1/parts/{number}") for number in asked[:half])
            asyncio.run(rate(port, first))
            base = asyncio.run(rate(bare, forever(get("/"))))
            never = asyncio.run(rate(port, first)) / base
            print(f"first numbers ever asked of a new process: {never:.2f} of bare")
            _ask_around(port, asked[:half][-60_000:])
            fresh = (get(f"/v1/parts/{number}") for number in asked[half:])
            kinds = {
                "ready GET": forever(get("/v1/parts/AN4-12A")),
                "304": forever(get("/v1/parts/AN4-12A", f"if-none-match: {tag}")),
                "cold decode": fresh,
            }
            found: dict[str, list[float]] = {kind: [] for kind in kinds}
            asyncio.run(rate(port, kinds["ready GET"])), asyncio.run(rate(bare, forever(get("/"))))
            for _ in range(ROUNDS):
                for kind, requests in kinds.items():
                    base = asyncio.run(rate(bare, forever(get("/"))))
                    found[kind].append(asyncio.run(rate(port, requests)) / base)
    return {kind: statistics.median(ratios) for kind, ratios in found.items()}


def _ask_around(port: int, asked: list[str]) -> None:
    """Put the process in the state of a day's work: it has met every family, not the numbers that will be timed."""
    with httpx.Client(base_url=f"http://127.0.0.1:{port}") as client:
        for start in range(0, len(asked), 1000):
            client.post("/v1/parts/decode", json={"numbers": asked[start : start + 1000]}).raise_for_status()


async def _etag(port: int) -> str:
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    writer.write(get("/v1/parts/AN4-12A"))
    head = (await reader.readuntil(b"\r\n\r\n")).decode()
    writer.close()
    return next(line.split(": ", 1)[1] for line in head.split("\r\n") if line.lower().startswith("etag"))


def batch_rate(catalogue: Catalogue, asked: list[str]) -> tuple[float, float]:
    """Numbers a second on one core, read only and read and written as JSON, in batches of 1,000 never asked before."""
    desk = Desk.over(catalogue, Settings())
    reading, both = [], []
    for start in range(0, min(len(asked), 60_000) - 1000, 1000):
        batch = asked[start : start + 1000]
        begin = time.perf_counter()
        outcomes = [desk.reader.read(number) for number in batch]
        middle = time.perf_counter()
        desk.writer.batch(outcomes, "from-memory")
        end = time.perf_counter()
        reading.append(1000 / (middle - begin))
        both.append(1000 / (end - begin))
    return statistics.median(reading), statistics.median(both[len(both) // 2 :])


#: questions of a day's work, as (method, path, body), and the milliseconds promised for them once the process is warm
QUESTIONS = {
    "search": (
        "GET",
        "/v1/parts?kind=bolt&thread=1/4-28&grip_length_min=0.75&grip_length_max=1&sort=grip_length",
        None,
        50,
    ),
    "complete": ("GET", "/v1/parts/complete?prefix=an4-1", None, 5),
    "identify": (
        "POST",
        "/v1/parts/identify",
        {
            "kind": "bolt",
            "readings": [{"quantity": "shank_diameter", "value": "0.248", "unit": "[in_i]", "uncertainty": "0.002"}],
        },
        50,
    ),
    "select": (
        "POST",
        "/v1/joints/select",
        {"thread": "1/4-28", "stack": [{"thickness": "0.25"}, {"thickness": "0.5"}]},
        100,
    ),
}


def question_times(catalogue: Catalogue) -> dict[str, tuple[int, float, float]]:
    """For each question: its status, the first answer and the median of the next, in milliseconds, in process, nothing kept."""
    desk = Desk.over(catalogue, Settings())
    app = over_desk(desk)

    async def ask() -> dict[str, tuple[int, float, float]]:
        found = {}
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://bench") as client:
            for name, (method, path, body, _) in QUESTIONS.items():
                times = []
                for _ in range(9):
                    begin = time.perf_counter()
                    answer = await client.request(method, path, json=body)
                    times.append((time.perf_counter() - begin) * 1000)
                found[name] = (answer.status_code, times[0], statistics.median(times[1:]))
        return found

    return asyncio.run(ask())


def start_seconds() -> float:
    """From the start of the process to a ready desk, the SQL copy loaded before."""
    with tempfile.TemporaryDirectory() as name:
        code = (
            "import time; t = time.perf_counter()\nfrom service.app import create_app\nfrom service.settings import Settings\n"
            f"create_app(Settings(database_url='sqlite:///{name}/b.sqlite'))\nprint(time.perf_counter() - t)"
        )
        times = [
            float(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout)
            for _ in range(4)
        ]
    return statistics.median(times[1:])


def main() -> None:
    """Measure everything and print it."""
    package = read_package(Settings().tables)
    catalogue, _ = build(package)
    asked = numbers(catalogue)
    print(f"numbers: {len(asked)} of {len(catalogue.families)} families")
    small = statistics.median(decode_times(catalogue, asked))
    print(f"decode in process, median: {small * 1e6:.1f} us (at most 30)")
    large = statistics.median(decode_times(build(inflated(package, 10))[0], asked))
    print(f"decode with ten times the facts: {large / small:.2f} of that (flat is 1)")
    reading, both = batch_rate(catalogue, asked)
    print(
        f"batch on one core: {reading:,.0f} numbers/s read (at least 100,000), {both:,.0f} read and written as full JSON"
    )
    print(f"ready after start: {start_seconds():.2f} s (at most 1.5)")
    for name, (status, first, median) in question_times(catalogue).items():
        print(f"{name}: {median:.1f} ms (at most {QUESTIONS[name][3]}), first {first:.0f} ms, status {status}")
    wanted = {"ready GET": 0.9, "304": 1.1, "cold decode": 0.5}
    for kind, ratio in http_ratios(asked).items():
        print(f"{kind}: {ratio:.2f} of a bare ASGI app with an answer of the same size (at least {wanted[kind]})")


if __name__ == "__main__":
    main()
