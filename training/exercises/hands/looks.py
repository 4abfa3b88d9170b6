"""What can be told by looking at one rig, without knowing a limit."""

from statistics import median

STANDS_OUT = 0.04
"""By how much of itself a reading differs before it catches the eye (an assumption)."""


def numbers(values):
    """Return those of ``values`` that are sizes or counts."""
    return [v for v in values if isinstance(v, (int, float)) and not isinstance(v, bool)]


def differs(rig, requirement, any_way=False):
    """
    Return whether a part of ``rig`` stands out among its fellows, to its rule's worse side.

    With ``any_way`` to either side. Of a thing that there is but one of, nothing stands out.
    """
    readings = requirement.read(rig)
    if readings is None:
        return False
    if requirement.is_plain and requirement.limit is True:
        return any(value is False for value in readings[0])
    values = numbers(readings[0])
    if len(values) < 2:
        return False
    usual = median(values)
    high, low = max(values) - usual, usual - min(values)
    near = STANDS_OUT * abs(usual) + 1e-9
    # Of gaps only wide ones look odd: the last one of a rope is whatever is left over.
    if any_way and not isinstance(readings[1][0], tuple):
        return max(high, low) > near
    return (high if requirement.is_upper else low) > near
