"""How far a vessel has come with the raised footrope, step by step."""

from django.db import models

from rigs.words.say import gettext_lazy


class Stage(models.TextChoices):
    """
    The stages of adoption in their order; the words are what staff can rename.

    A vessel is at the furthest stage that it has reached. Going back to the sweep takes
    it out of them, and only fishing without a sweep again brings it back in.
    """

    TOLD = "told", gettext_lazy("talked to")
    TRAINING = "training", gettext_lazy("in training")
    CREWED = "crewed", gettext_lazy("crew earned a certificate")
    PLANNED = "planned", gettext_lazy("net planned")
    RIGGED = "rigged", gettext_lazy("net rigged, by its owner’s word")
    CHECKED = "checked", gettext_lazy("rig checked and nothing outside")
    CONVERTED = "converted", gettext_lazy("fishing without a sweep")
    BACK = "back", gettext_lazy("back to a sweep")


# What a stage was called in tables downloaded before. Any check sheet put a vessel at CHECKED
# then, so that its former words say too little to be read back.
FORMERLY = {"crew member certified": Stage.CREWED}

# What each stage says, and what it does not; whatever staff call it.
MEANS = {
    Stage.TOLD: gettext_lazy("Somebody talked with its people about the raised footrope."),
    Stage.TRAINING: gettext_lazy("Somebody who fishes on it signed up here, or staff say so."),
    Stage.CREWED: gettext_lazy(
        "Somebody who fished on it held a certificate. It may have run out since. A certificate "
        "that was taken back does not count."
    ),
    Stage.PLANNED: gettext_lazy("A net is planned on this site, by somebody who lets it count."),
    Stage.RIGGED: gettext_lazy(
        "Somebody who fished on it that day said here that a net was rigged as planned, and lets "
        "it count. Nobody checked it, and it may not have been towed yet."
    ),
    Stage.CHECKED: gettext_lazy(
        "An officer's sheet looked for a sweep and found none, and found nothing outside. What "
        "was not measured may still be outside. Sheets of nets with a sweep do not count."
    ),
    Stage.CONVERTED: gettext_lazy("Staff heard that it fishes without a sweep."),
    Stage.BACK: gettext_lazy("Staff heard that it fishes with a sweep again."),
}


class Known(models.TextChoices):
    """How an event in a vessel's way is known."""

    HAND = "hand", gettext_lazy("staff were told")
    CREW = "crew", gettext_lazy("crew signed up here")
    CERTIFICATE = "certificate", gettext_lazy("certificate of a crew member")
    PLAN = "plan", gettext_lazy("plan of a net")
    RIGGED = "rigged", gettext_lazy("said of a net on its page")
    SHEET = "sheet", gettext_lazy("check sheet")
    REGISTER = "register", gettext_lazy("imported register")
