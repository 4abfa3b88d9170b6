"""How an exam was taken, in words for anybody."""

from django.utils import timezone
from django.utils.formats import date_format

NOT_RECORDED = "Not recorded: the exam is from before this was kept."
WITHOUT = "Taken without supervision. The program did not check who took it."


def day(moment):
    """Return the day of ``moment``, an aware datetime, such as March 3, 2026."""
    return date_format(timezone.localtime(moment), "F j, Y")


def taken(how):
    """Return sentences that say ``how`` (HowTaken) an exam was taken."""
    if how.supervised is None:
        return NOT_RECORDED
    if how.supervised:
        return (
            f"Taken under supervision on {day(how.on)}. "
            f"The program checked who took it (signed {day(how.signed)})."
        )
    if how.waits:
        return (
            f"Started at a supervised exam on {day(how.on)}, not signed yet. "
            "Until it is signed it counts as taken without supervision."
        )
    return WITHOUT


def exam(exam):
    """
    Return a sentence that says what a ``exam`` with a certificate was, without its points.

    One that a correction turned into a pass did not reach the score, and says so.
    """
    said = f"An exam of {exam.out_of} points, {exam.pass_percent} percent to pass"
    if exam.must_pass and exam.must_slips:
        slips = f"{exam.must_slips} slip{'' if exam.must_slips == 1 else 's'}"
        said += f", at most {slips} in each rule that must be right"
    elif exam.must_pass:
        said += ", no slip in the rules that must be right"
    if exam.passed:
        return f"{said}."
    return f"{said}. It counts as passed by a correction of the staff."


def renewed(check):
    """Return sentences that say how a passed ``check`` (SeasonCheck) renewed a certificate."""
    return (
        f"Renewed to {day(check.until)} after the short check of {day(check.settled)}: "
        f"{check.asked - check.slips} of {check.asked} right. Nobody supervised the check."
    )
