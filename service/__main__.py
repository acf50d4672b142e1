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


def serve(host: str, port: int, log: bool) -> int:
    """Serve over HTTP until stopped; 1 when the tables are not fit to answer from."""
    import uvicorn

    from service.app import create_app
    from service.catalogue.catalogue import TablesUnfit

    try:
        app = create_app()
    except TablesUnfit as unfit:
        print(f"{unfit}\nRun `python -m service check` for all of them.", file=sys.stderr)
        return 1
    print(
        f"Gripledger serves release {app.state.desk.catalogue.short} on http://{host}:{port}/ - reference data, not approved data.",
        flush=True,
    )
    uvicorn.run(app, host=host, port=port, access_log=log, log_level="info" if log else "warning", server_header=False)
    return 0


def main(argv: list[str] | None = None) -> int:
    """Run one command; the exit code says how it went."""
    parser = argparse.ArgumentParser(
        prog="python -m service", description="Gripledger: aircraft standard hardware, with sources."
    )
    commands = parser.add_subparsers(dest="command", required=True)
    commands.add_parser("check", help="validate the tables: schema, keys, citations, arithmetic of the trade")
    server = commands.add_parser("serve", help="serve over HTTP")
    server.add_argument("--host", default="127.0.0.1", help="address to listen on (default %(default)s)")
    server.add_argument("--port", type=int, default=8000, help="port to listen on (default %(default)s)")
    server.add_argument("--log", action="store_true", help="log every request; costs about a third of the speed")
    export = commands.add_parser(
        "export", help="write openapi/v1.json, seed_tables/datapackage.json and the README's table of families"
    )
    export.add_argument("--check", action="store_true", help="write nothing; 1 when a file is stale")
    args = parser.parse_args(argv)
    if args.command == "check":
        return check(Settings().tables)
    if args.command == "serve":
        return serve(args.host, args.port, args.log)
    from service.exporting import export_all

    return export_all(only_check=args.check)


if __name__ == "__main__":
    sys.exit(main())
