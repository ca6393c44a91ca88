"""The shop page with the API asked by the shop's own server: no script, no CORS, and the API may stay inside.

    python -m service.examples.shop.server_side http://127.0.0.1:8000 --port 8080

It is a plain WSGI application, so that any Python web server can run it.
"""

import argparse
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs
from wsgiref.simple_server import make_server

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from service.client import Client, ClientError, InvalidRequestError, NotFoundError, ProblemError, operations
from service.domain.money import priced

Application = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]

_HERE = Path(__file__).parent
_HTML, _CSS, _TEXT = "text/html; charset=utf-8", "text/css; charset=utf-8", "text/plain; charset=utf-8"
_SAFE_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; img-src data:; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
_UNREACHABLE = "The parts service cannot be reached just now. Try again in a moment."


def shop(api: Client) -> Application:
    """The shop as a WSGI application; a question stands in its URL: `/?car=ID&layout=ID`."""
    templates = Environment(loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined)
    templates.filters["priced"] = priced
    template = templates.get_template("server_side.html")

    def answer(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        status, content_type, body = _answered(environ, api, template.render)
        sized = {"Content-Type": content_type, "Content-Length": str(len(body)), **_SAFE_HEADERS}
        start(status, list(sized.items()))
        return [b"" if environ["REQUEST_METHOD"] == "HEAD" else body]

    return answer


def _answered(environ: Mapping[str, Any], api: Client, render: Callable[..., str]) -> tuple[str, str, bytes]:
    if environ["REQUEST_METHOD"] not in ("GET", "HEAD"):
        return "405 Method Not Allowed", _TEXT, b"This page takes GET alone.\n"
    if environ["PATH_INFO"] == "/shop.css":
        return "200 OK", _CSS, (_HERE / "shop.css").read_bytes()
    if environ["PATH_INFO"] != "/":
        return "404 Not Found", _TEXT, b"There is nothing here.\n"
    asked = parse_qs(environ.get("QUERY_STRING", ""))
    car, layout = (asked.get(name, [""])[0] for name in ("car", "layout"))
    told: dict[str, Any] = {"car": car, "layout": layout, "cars": [], "choices": None, "answer": None, "message": ""}
    status = "200 OK"
    try:
        told["cars"] = list(api.each(operations.list_chassis()))
        if car:
            told["choices"] = api.list_chassis_layouts(car)
        if car and layout:
            told["answer"] = api.find_bills({"chassis": car, "layout": layout, "limit": 1})
    except (InvalidRequestError, NotFoundError) as error:
        status, told["message"] = "404 Not Found", error.detail
    except ProblemError as error:
        status, told["message"] = "503 Service Unavailable", f"{error.title}. {_UNREACHABLE}"
    except ClientError:
        status, told["message"] = "503 Service Unavailable", _UNREACHABLE
    return status, _HTML, render(told).encode()


def main() -> None:
    """Serve the shop on loopback until interrupted."""
    parser = argparse.ArgumentParser(description="A shop page that asks the parts service.")
    parser.add_argument("api", help="the address of the service, such as http://127.0.0.1:8000")
    parser.add_argument("--port", type=int, default=8080)
    given = parser.parse_args()
    with Client(given.api) as api, make_server("127.0.0.1", given.port, shop(api)) as server:
        server.serve_forever()


if __name__ == "__main__":
    main()
