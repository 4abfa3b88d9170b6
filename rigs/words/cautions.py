"""What is printed at the foot of every sheet that is taken on deck."""

CAUTIONS = (
    "Training, not legal advice: the regulation in force, your permit and your local officer "
    "decide. Ask before you cut.",
    "Rig at the dock or dead in the water. Set the winch brakes. Keep everyone out of the bight "
    "and out from under the lift. Chain under load kills.",
)
