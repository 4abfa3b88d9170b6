"""What brings a vessel from where it stands to the next stage."""

from rigs.words.say import gettext_lazy

from ..stages import Stage

# Common sense of outreach, no source.
NEXT = {
    "": gettext_lazy(
        "Nobody has talked to them yet. Tell them what the rig is for, and record it here."
    ),
    Stage.TOLD: gettext_lazy("Have one of the crew sign up with the code of their harbor's group."),
    Stage.TRAINING: gettext_lazy("Have one of the crew finish the lessons and take the exam."),
    Stage.CREWED: gettext_lazy(
        "Have them enter their net, so that there is a plan for converting it."
    ),
    Stage.PLANNED: gettext_lazy(
        "Help them rig it by the plan. When it hangs, they say so on the page of the net."
    ),
    Stage.RIGGED: gettext_lazy("Have an officer check the rig."),
    Stage.CHECKED: gettext_lazy("Ask after the first trips: does it fish without a sweep?"),
    Stage.CONVERTED: gettext_lazy(
        "Ask once a season how it goes, and whether the sweep has come back."
    ),
    Stage.BACK: gettext_lazy("Ask what made them go back. Tuning the net may help."),
}
