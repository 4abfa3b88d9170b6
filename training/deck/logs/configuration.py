"""How Python's logging is set up for the site."""


def logging_for(local):
    """
    Return the logging configuration: JSON on standard error, and mail about failures.

    On one's own machine (``local``) it is plain text, with all that an exception says.
    """
    words = "%(levelname)s %(name)s: %(message)s"
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {
            "json": {"()": "training.deck.logs.line.JsonLine"},
            "text": {"format": words},
        },
        "handlers": {
            "lines": {
                "class": "logging.StreamHandler",
                "formatter": "text" if local else "json",
            },
            "mail": {"class": "training.deck.logs.mail.OfficeMail"},
        },
        "root": {"handlers": ["lines", "mail"], "level": "WARNING"},
        "loggers": {
            # Django's own handlers are taken off: the root has what is needed.
            "django": {"handlers": [], "level": "WARNING"},
            # How each request came out is noted once, by the number it has.
            "django.request": {"level": "ERROR"},
            "training": {"level": "INFO"},
        },
    }
