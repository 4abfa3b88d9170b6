"""Into which groups of species a catch is sorted: one list for the whole site, in our own words."""

from typing import NamedTuple

from rigs.words.say import gettext_lazy


class Species(NamedTuple):
    """A group of species: its ``key`` in the database, its name, and what it holds."""

    key: str
    name: str
    examples: str

    @property
    def name_within(self):
        """The name within a sentence."""
        return self.name[0].lower() + self.name[1:]


# Sorted as on deck, no source: what the fishery is for first, then what should pass under.
SPECIES = (
    Species(
        "hake",
        gettext_lazy("Whiting and other hakes"),
        gettext_lazy("silver, red and offshore hake"),
    ),
    Species("flatfish", gettext_lazy("Flatfish"), gettext_lazy("flounders, soles, plaice")),
    Species("lobster", gettext_lazy("Lobsters"), gettext_lazy("kept or not")),
    Species(
        "crab", gettext_lazy("Crabs and shellfish"), gettext_lazy("crabs, scallops, whelks, clams")
    ),
    Species("skate", gettext_lazy("Skates and rays"), ""),
    Species("cod", gettext_lazy("Cod, haddock and the like"), gettext_lazy("pollock too")),
    Species(
        "school",
        gettext_lazy("Fish in schools"),
        gettext_lazy("herring, mackerel, butterfish, scup"),
    ),
    Species("squid", gettext_lazy("Squid"), ""),
    Species("dogfish", gettext_lazy("Dogfish"), ""),
    Species("other", gettext_lazy("All other"), ""),
)
BY_KEY = {species.key: species for species in SPECIES}

WITHOUT, WITH = "without", "with"
"""The two tows of a pair, as in the names of form fields and of typed entries."""


def name_of(key):
    """Return the name of a group of species; its key if there is none such any more."""
    return BY_KEY[key].name if key in BY_KEY else key
