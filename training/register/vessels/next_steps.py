"""What brings a vessel from where it stands to the next stage."""

from ..stages import Stage

# Common sense of outreach, no source.
NEXT = {
    "": "Nobody has talked to them yet. Tell them what the rig is for, and record it here.",
    Stage.TOLD: "Have one of the crew sign up with the code of their harbor's group.",
    Stage.TRAINING: "Have one of the crew finish the lessons and take the exam.",
    Stage.CREWED: "Have them enter their net, so that there is a plan for converting it.",
    Stage.PLANNED: "Help them rig it by the plan, and have an officer check the rig.",
    Stage.CHECKED: "Ask after the first trips: does it fish without a sweep?",
    Stage.CONVERTED: "Ask once a season how it goes, and whether the sweep has come back.",
    Stage.BACK: "Ask what made them go back. Tuning the net may help.",
}
