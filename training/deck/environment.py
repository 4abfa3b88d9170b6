"""
Reading settings from the environment; what cannot be read is told in words.

Nothing here is translated: settings are read before there is a language.
"""

from zoneinfo import ZoneInfo

from django.core.exceptions import ImproperlyConfigured

YES = {"1", "true", "yes", "on"}
NO = {"", "0", "false", "no", "off"}


class WrongSettings(ImproperlyConfigured):
    """The environment holds what cannot be read; the message has a line for each."""


class Environment:
    """
    The variables of ``environ``, read by kind.

    ``names`` are all that were asked for. What is wrong is gathered, so that it is
    told all at once by ``stop_if_wrong``; until then the default is returned for it.
    """

    def __init__(self, environ):
        self.environ = environ
        self.names = set()
        self.wrong = []

    def text(self, name, default=""):
        """Return the variable ``name`` without spaces around it; ``default`` if it is blank."""
        self.names.add(name)
        return self.environ.get(name, "").strip() or default

    def secret(self, name):
        """Return the variable ``name`` to the letter; empty if it is not set."""
        self.names.add(name)
        return self.environ.get(name, "")

    def flag(self, name, default=False):
        """Return whether the variable ``name`` is set to yes; ``default`` if it is blank."""
        value = self.text(name, "1" if default else "").lower()
        if value not in YES | NO:
            self.wrong.append(f"{name} is {value!r}. Set it to 1 for yes or 0 for no.")
        return value in YES

    def words(self, name):
        """Return the comma-separated words of the variable ``name``."""
        return [word.strip() for word in self.text(name).split(",") if word.strip()]

    def number(self, name, default, least=0, most=None):
        """Return the variable ``name``, a whole number from ``least`` to ``most``."""
        value = self.text(name)
        if not value:
            return default
        # A longer number is out of any range here, and slow to read.
        if value.isascii() and value.isdecimal() and len(value) < 10:
            found = int(value)
            if least <= found and (most is None or found <= most):
                return found
        reach = f"from {least} to {most}" if most is not None else f"of at least {least}"
        self.wrong.append(
            f"{name} is {value!r}. Set it to a whole number {reach}, such as {default}."
        )
        return default

    def zone(self, name, default):
        """Return the variable ``name``, the name of a time zone that this machine knows."""
        value = self.text(name, default)
        try:
            ZoneInfo(value)
        except (KeyError, OSError, ValueError):
            self.wrong.append(
                f"{name} is {value!r}, which is no time zone. Set it to one such as {default}."
            )
            return default
        return value

    def read(self, name, reader, remedy):
        """Return what ``reader()`` makes of the variable ``name``; None if that is a ValueError."""
        self.names.add(name)
        try:
            return reader()
        except ValueError:
            # What stands in it may be secret.
            self.wrong.append(f"{name} cannot be read. {remedy}")
            return None

    def stop_if_wrong(self):
        """Raise WrongSettings if anything that was read is wrong."""
        if self.wrong:
            raise WrongSettings("\n".join(self.wrong))
