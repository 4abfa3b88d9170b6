"""How an exam was taken, in words for anybody."""

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rigs.words.say import gettext_lazy

NOT_RECORDED = gettext_lazy("Not recorded: the exam is from before this was kept.")
WITHOUT = gettext_lazy("Taken without supervision. The program did not check who took it.")


def day(moment):
    """Return the day of ``moment``, an aware datetime, such as March 3, 2026."""
    return date_format(timezone.localtime(moment), "F j, Y")


def taken(how):
    """Return sentences that say ``how`` (HowTaken) an exam was taken."""
    if how.supervised is None:
        return NOT_RECORDED
    if how.supervised:
        return _(
            "Taken under supervision on {day}. The program checked who took it (signed {day2})."
        ).format(day=day(how.on), day2=day(how.signed))
    if how.waits:
        return _(
            "Started at a supervised exam on {day}, not signed yet. Until it is signed it "
            "counts as taken without supervision."
        ).format(day=day(how.on))
    return WITHOUT


def exam(exam):
    """
    Return a sentence that says what a ``exam`` with a certificate was, without its points.

    One that a correction turned into a pass did not reach the score, and says so.
    """
    said = _("An exam of {out_of} points, {pass_percent} percent to pass").format(
        out_of=exam.out_of, pass_percent=exam.pass_percent
    )
    if exam.must_pass and exam.must_slips:
        slips = ngettext(
            "{must_slips} slip",
            "{must_slips} slips",
            exam.must_slips,
        ).format(must_slips=exam.must_slips)
        said += _(", at most {slips} in each rule that must be right").format(slips=slips)
    elif exam.must_pass:
        said += _(", no slip in the rules that must be right")
    if exam.passed:
        return f"{said}."
    return _("{said}. It counts as passed by a correction of the staff.").format(said=said)


def renewed(check):
    """Return sentences that say how a passed ``check`` (SeasonCheck) renewed a certificate."""
    return _(
        "Renewed to {day} after the short check of {day2}: {value} of {asked} right. Nobody "
        "supervised the check."
    ).format(
        day=day(check.until),
        day2=day(check.settled),
        value=check.asked - check.slips,
        asked=check.asked,
    )
