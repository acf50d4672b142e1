"""What the README shows works as written, against a server started by the README's own command."""

from __future__ import annotations

import contextlib
import io
import re
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

README = (Path(__file__).parent.parent / "README.md").read_text()
BLOCKS = re.findall(r"```(\w+)\n(.*?)```", README.partition("## Five questions")[2].partition("## How far")[0], re.S)


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The base URL of a fresh server."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    folder = tmp_path_factory.mktemp("readme")
    home = Path(__file__).parent.parent
    process = subprocess.Popen(
        [sys.executable, "-m", "service", "serve", "--port", str(port)],
        cwd=folder,
        env={"PYTHONPATH": str(home), "PATH": "/usr/bin:/bin"},
    )
    try:
        for _ in range(200):
            with contextlib.suppress(httpx.TransportError):
                httpx.get(f"http://127.0.0.1:{port}/readyz")
                break
            time.sleep(0.1)
        yield f"http://127.0.0.1:{port}"
    finally:
        process.terminate()
        process.wait(10)


def test_readme_opens_with_one_paragraph_that_states_the_job() -> None:
    first = README.split("\n\n")[1]
    assert "\n" not in first
    assert "parts counter" in first


def test_python_examples_print_what_the_readme_says(served: str) -> None:
    scope: dict[str, object] = {}
    shown = 0
    for language, code in BLOCKS:
        if language != "python":
            continue
        printed = io.StringIO()
        with contextlib.redirect_stdout(printed):
            exec(code.replace("http://127.0.0.1:8000", served), scope)
        wanted = [line[2:] for line in code.splitlines() if line.startswith("# ")]
        if wanted:
            shown += 1
            assert printed.getvalue().splitlines() == wanted
    assert shown >= 4


def test_curl_examples_answer(served: str) -> None:
    commands = [code.strip().replace("http://127.0.0.1:8000", served) for language, code in BLOCKS if language == "sh"]
    assert len(commands) == 5
    for command in commands:
        answer = subprocess.run(["bash", "-c", command], capture_output=True, text=True, check=True).stdout
        assert "release" in answer, command
        assert "internal-error" not in answer
