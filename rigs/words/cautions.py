"""What is printed at the foot of every sheet that is taken on deck."""

from .say import gettext_lazy

CAUTIONS = (
    gettext_lazy(
        "Training, not legal advice: the regulation in force, your permit and your local officer "
        "decide. Ask before you cut."
    ),
    gettext_lazy(
        "Rig at the dock or dead in the water. Set the winch brakes. Keep everyone out of the "
        "bight and out from under the lift. Chain under load kills."
    ),
)
