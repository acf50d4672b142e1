"""The pages beside the API: what each problem type means, in HTML for people and in JSON for programs."""

from __future__ import annotations

from html import escape

from fastapi import FastAPI
from starlette.requests import Request
from starlette.responses import Response

from service.api.desk import Desk
from service.api.problems import PROBLEMS, Problem, ProblemType
from service.api.ready import HTML, JSON, negotiated

_STYLE = "body{font:1rem/1.5 system-ui,sans-serif;max-width:40rem;margin:2rem auto;padding:0 1rem}"
POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"


def add_to(app: FastAPI, desk: Desk) -> None:
    """Serve the problem pages from ``app``."""

    @app.get("/problems/{name}", include_in_schema=False)
    async def explain_problem(request: Request, name: str) -> Response:
        found = PROBLEMS.get(name)
        if found is None:
            raise Problem("not-found", f"No problem type {name!r}; there are {', '.join(PROBLEMS)}.")
        headers = {"content-security-policy": POLICY, "x-content-type-options": "nosniff", "vary": "accept"}
        if negotiated(request.scope, (HTML, JSON)) == JSON:
            members = {k: getattr(found, k) for k in ("name", "status", "title", "meaning", "remedy")}
            return Response(desk.writer.plain(members), media_type=JSON, headers=headers)
        return Response(_page(found), media_type=HTML, headers=headers)


def _page(problem: ProblemType) -> str:
    return (
        f'<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">'
        f"<title>{escape(problem.title)}</title><style>{_STYLE}</style><h1>{escape(problem.title)}</h1>"
        f"<p>Problem type <code>{escape(problem.name)}</code>, status {problem.status}.</p><p>{escape(problem.meaning)}</p>"
        f"<p>{escape(problem.remedy)}</p></html>"
    )
