"""
Which pages open without signal: a view says so, and why one does not.

The table of all pages is made from these marks and the URL configuration.
"""


def opens(view):
    """Mark ``view`` as one whose page is taken along and opens without signal; return it."""
    view.opens_without_signal = True
    return view


def needs_signal(reason):
    """Mark a view as one that does not open without signal, for ``reason``, a phrase."""

    def marked(view):
        view.opens_without_signal = False
        view.why_signal = reason
        return view

    return marked
