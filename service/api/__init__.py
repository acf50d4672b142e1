"""HTTP only: routes, schemas, problems, conditional requests, paging, media types. How an answer is computed is not known here."""
