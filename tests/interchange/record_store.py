"""
A record store over real HTTP, as much of one as the standard asks for statements.

Written from IEEE 9274.1.1 as remembered: what a statement must have, that a batch is
stored whole or not at all, and that a name already stored with the same content is no
conflict. ``troubles`` holds, for the requests to come, what goes wrong: a status to
answer, or "hang up" for a store that keeps the batch and then drops the line.
"""

import base64
import json
import threading
import uuid
from datetime import datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

USER, PASSWORD = "tern", "sound"


class Bad(ValueError):
    """A statement that the standard does not allow."""


def check(statement):
    """Raise Bad unless ``statement`` has what the standard asks of it."""
    if unknown := set(statement) - {
        "id", "version", "actor", "verb", "object", "result", "context", "timestamp",
    }:  # fmt: skip
        raise Bad(f"unknown {unknown}")
    uuid.UUID(statement["id"])
    account = statement["actor"]["account"]
    if statement["actor"]["objectType"] != "Agent" or set(account) != {"homePage", "name"}:
        raise Bad("actor")
    for iri in (account["homePage"], statement["verb"]["id"], statement["object"]["id"]):
        if "://" not in iri:
            raise Bad(f"{iri} is no IRI")
    if not all(isinstance(text, str) for text in statement["verb"]["display"].values()):
        raise Bad("display")
    if datetime.fromisoformat(statement["timestamp"]).tzinfo is None:
        raise Bad("timestamp without a zone")
    result = statement.get("result", {})
    score = result.get("score")
    if score:
        if not score["min"] <= score["raw"] <= score["max"]:
            raise Bad("raw score out of range")
        if not -1 <= score.get("scaled", 0) <= 1:
            raise Bad("scaled score out of range")
        if not isinstance(result.get("success", True), bool):
            raise Bad("success")
    extensions = statement.get("context", {}).get("extensions", {})
    if not all("://" in key for key in extensions):
        raise Bad("extension without an IRI")


class _Handler(BaseHTTPRequestHandler):
    def do_POST(self):
        store = self.server.store
        text = self.rfile.read(int(self.headers["Content-Length"]))
        store.requests += 1
        trouble = store.troubles.pop(0) if store.troubles else None
        if isinstance(trouble, int):
            return self.answer(trouble, b"trouble")
        token = base64.b64encode(f"{USER}:{PASSWORD}".encode()).decode()
        if self.headers["Authorization"] != f"Basic {token}":
            return self.answer(401, b"who are you?")
        if self.path != "/xapi/statements" or not self.headers[
            "X-Experience-API-Version"
        ].startswith("2.0"):
            return self.answer(400, b"wrong place or version")
        try:
            batch = json.loads(text)
            for each in batch:
                check(each)
                if store.refuses(each):
                    raise Bad("not this one")
                if store.kept.get(each["id"], each) != each:
                    return self.answer(409, b"another statement has this name")
        except (Bad, KeyError, ValueError) as error:
            return self.answer(400, str(error).encode())
        store.kept.update({each["id"]: each for each in batch})
        store.received += len(batch)
        if trouble == "hang up":
            self.close_connection = True
            return self.connection.close()
        return self.answer(200, json.dumps([each["id"] for each in batch]).encode())

    def answer(self, status, body):
        self.send_response(status)
        self.send_header("Content-Length", str(len(body)))
        if status == 429:
            self.send_header("Retry-After", "7")
        if status == 302:
            self.send_header("Location", "/elsewhere")
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *args):
        pass


class RecordStore:
    """A store listening on this machine; ``kept`` maps names to statements."""

    def __init__(self):
        self.kept, self.troubles, self.requests, self.received = {}, [], 0, 0
        self.refuses = lambda statement: False
        self.server = ThreadingHTTPServer(("127.0.0.1", 0), _Handler)
        self.server.store = self
        self.endpoint = f"http://127.0.0.1:{self.server.server_port}/xapi/"
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def close(self):
        self.server.shutdown()
        self.server.server_close()
