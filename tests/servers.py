"""Where the test database is, for a process of its own."""

from urllib.parse import quote

from django.db import connection


def address(name=None):
    """Return the address of the test database, or of that called ``name`` on its server."""
    told = connection.settings_dict
    name = name or told["NAME"]
    if connection.vendor == "sqlite":
        return f"sqlite:///{name}"
    # The server of a socket is a folder.
    host, user = (quote(told[part], safe="") for part in ("HOST", "USER"))
    password = f":{quote(told['PASSWORD'], safe='')}" if told["PASSWORD"] else ""
    port = f":{told['PORT']}" if told["PORT"] else ""
    return f"postgres://{user}{password}@{host}{port}/{name}"
