"""Lines of JSON from gunicorn too: ``gunicorn --logger-class training.deck.logs.server.Lines``."""

from gunicorn.glogging import Logger

from .line import JsonLine


class Lines(Logger):
    """Writes what gunicorn says of its workers as the site writes its own log."""

    def setup(self, cfg):
        super().setup(cfg)
        for handler in self.error_log.handlers:
            handler.setFormatter(JsonLine())
