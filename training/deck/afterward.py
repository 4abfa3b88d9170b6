"""What is done once the browser has its answer, so that nobody measures how long it takes."""

import logging

from django.http import HttpResponseRedirect

log = logging.getLogger("training.deck")


class RedirectFirst(HttpResponseRedirect):
    """
    Leads on to ``url``, and then does ``deed``, a function without arguments.

    The server closes an answer when it has sent it. A deed that fails is told in the log.
    """

    def __init__(self, url, deed):
        super().__init__(url)
        self._deed = deed

    def close(self):
        deed, self._deed = self._deed, None
        try:
            if deed:
                deed()
        except Exception:
            log.exception("what was to be done after an answer failed")
        finally:
            super().close()
