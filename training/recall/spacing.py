"""
When a rule comes back, and when it counts as known: the scheme, and nothing else.

It has five steps. At step 0 a rule comes back in 2 days; then in 7, in 21 and in 60; at the
last step a week before a season. A miss takes it to step 0, and so does the first right answer,
ever or since a miss, which can be luck. Right once more it moves up a step, though only on the
day it was to come back or later: what is right again on the same evening says little about the
week after. The week before a season counts at every step if it comes first.

Asking again after growing gaps keeps more than asking the same number of times at once:
Latimier, Peyre and Ramus, "A meta-analytic review of the benefit of spacing out retrieval
practice episodes on retention", Educational Psychology Review, 2021; the best gap grows with
the time for which one wants to remember: Cepeda, Vul, Rohrer, Wixted and Pashler, "Spacing
effects in learning", Psychological Science, 2008 (both from memory). They do not give these very
days, which are this site's own choice.

Days are dates where the site is. Nothing here knows the database.
"""

from datetime import timedelta

from rigs.words.say import gettext_lazy

INTERVALS = (2, 7, 21, 60)
"""Days until a rule comes back, by step; after the last of them it goes by seasons."""
LAST = len(INTERVALS)
AHEAD = 7
"""How many days before a season opens a rule comes back, and how long ago it was asked then."""
FADES = 365
"""Days after which a rule that never comes back no longer counts as known."""

LATER_DAYS = 30
"""From how many days on an answer tells what has stayed, not what was just said."""

KNOWN, SHAKY, NOT_ASKED = "known", "shaky", gettext_lazy("not yet asked")


def season_opens_after(day):
    """Return the date after which a season must open to bring back what was asked on ``day``."""
    return day + timedelta(days=2 * AHEAD - 1)


def placed(step, day, opening):
    """
    Return the date on which a rule at ``step``, asked on the date ``day``, comes back.

    ``opening`` is the first day of the next season after ``season_opens_after(day)``, None
    if there is none. None at the last step without a season.
    """
    ahead = opening and opening - timedelta(days=AHEAD)
    if step == LAST:
        return ahead
    spaced = day + timedelta(days=INTERVALS[step])
    return min(spaced, ahead) if ahead else spaced


def after(step, due, right_last, right, day, opening):
    """
    Return (step, due) of a rule that was at ``step`` and ``due``, answered on ``day``.

    ``right_last`` is whether the answer before was ``right`` too, False if there was none. The
    rest is as ``placed`` has it.
    """
    if not (right and right_last):
        return 0, placed(0, day, opening)
    if due is None or day < due:
        return step, due
    step = min(step + 1, LAST)
    return step, placed(step, day, opening)


def state(step, due, right_last, asked, today):
    """
    Return KNOWN or SHAKY as of ``today``; ``asked`` is the date of the last answer.

    Known is what was right last, at step 1 or more, so right on two days at least, and is
    not overdue by more than its own interval.
    """
    if not right_last or step < 1:
        return SHAKY
    if due is None:
        late, patience = (today - asked).days, FADES
    else:
        late, patience = (today - due).days, INTERVALS[min(step, LAST - 1)]
    return KNOWN if late <= patience else SHAKY
