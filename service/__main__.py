"""The command: ``python -m service serve | check | export``."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from service.settings import Settings


def check(folder: Path) -> int:
    """Print every fault in the tables; 1 when there is one."""
    from service.audit import audit

    faults = audit(folder)
    for fault in faults:
        print(fault)
    print(f"{len(faults)} faults" if faults else "the tables are sound")
    return 1 if faults else 0


def main(argv: list[str] | None = None) -> int:
    """Run one command; the exit code says how it went."""
    parser = argparse.ArgumentParser(prog="python -m service", description="Gripledger: aircraft standard hardware, with sources.")
    commands = parser.add_subparsers(dest="command", required=True)
    commands.add_parser("check", help="validate the tables: schema, keys, citations, arithmetic of the trade")
    args = parser.parse_args(argv)
    settings = Settings()
    if args.command == "check":
        return check(settings.tables)
    return 2


if __name__ == "__main__":
    sys.exit(main())
