"""What rooms above do when somebody signs up or in: they register it here."""

_brings, _stops = [], []


def brings(function):
    """Have the decorated function be called with each request that just signed somebody up."""
    _brings.append(function)
    return function


def bring_along(request):
    """Let rooms put on the record of ``request.user``, new here, what they kept before."""
    for function in _brings:
        function(request)


def stop(function):
    """
    Have the decorated function say where to lead somebody who just signed in.

    It takes the request, and returns an address or "".
    """
    _stops.append(function)
    return function


def first_stop(request):
    """Return where to lead ``request.user``, who just signed in, or "" if nobody says."""
    return next(filter(None, (function(request) for function in _stops)), "")
