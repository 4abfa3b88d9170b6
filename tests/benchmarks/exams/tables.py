"""Shares and their standard errors, as rows of text."""


def error(share, count):
    """Return the standard error of ``share``, as seen in ``count`` tries."""
    # One success and one failure more than seen, so that 0 in 100 is not said to be sure.
    hedged = (share * count + 1) / (count + 2)
    return (hedged * (1 - hedged) / count) ** 0.5


def percent(share, count):
    """Return ``share`` of ``count`` tries in percent with its standard error: `` 93 ± 2``."""
    return f"{100 * share:3.0f} ±{100 * error(share, count):2.0f}"


def show(title, heads, rows, wide=20):
    """Print a table: ``heads`` over all columns but the first, ``rows`` of (name, *cells)."""
    print(f"\n{title}")
    widths = [max(len(head), 7) + 1 for head in heads]
    print(" " * wide + "".join(f"{head:>{w}}" for head, w in zip(heads, widths, strict=True)))
    for name, *cells in rows:
        told = "".join(f"{cell:>{w}}" for cell, w in zip(cells, widths, strict=True))
        print(f"{name:{wide}}{told}")
