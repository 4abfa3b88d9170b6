"""How what a phone showed parts from what the site finds: never in silence."""

from django.utils.translation import gettext as _

from rigs.check.sheet import Tally

_COUNTS = ("outside", "within", "not_measured")
"""What a phone counts; how much of it was told, it may leave out."""


def _went_by(said, sheet):
    """Return (title, version on the phone, version on the site) of each rule set that differs."""
    books = [(sheet.rulebook, said.get("rulebook_version", ""))]
    if sheet.fishery and sheet.fishery_name != sheet.rulebook_name:
        books.append((sheet.fishery, said.get("fishery_version", "")))
    return [(book.title, there, book.version) for book, there in books if there != book.version]


def parted(said, sheet):
    """
    Return words for the officer on how ``sheet`` parts from what its phone showed, or "".

    ``said`` is what came with the save: versions and tally. A phone from before says nothing,
    and then nothing can be compared.
    """
    if not said:
        return ""
    showed, differ = said.get("tally"), _went_by(said, sheet)
    if not showed:
        words = [_("This phone had no rules for that day and showed no result.")]
        return " ".join([*words, _("The site counts {tally}.").format(tally=sheet.tally)])
    told = Tally(*(showed.get(name, 0) for name in _COUNTS), sheet.tally.told)
    if told == sheet.tally and not differ:
        return ""
    words = [_by(each) for each in differ]
    if told == sheet.tally:
        words.append(_("Both count the same: {tally}.").format(tally=sheet.tally))
    else:
        words.append(
            _("This phone showed {told}. The site counts {tally}.").format(
                told=told, tally=sheet.tally
            )
        )
    return " ".join(words)


def _by(differing):
    title, there, here = differing
    if not there:
        return _(
            "This phone did not know the rules “{title}”. The site goes by version {here}."
        ).format(title=title, here=here)
    return _(
        "This phone went by version {there} of “{title}”, the site goes by version {here}."
    ).format(title=title, there=there, here=here)
