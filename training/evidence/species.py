"""Into which groups of species a catch is sorted: one list for the whole site, in our own words."""

from typing import NamedTuple


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
    Species("hake", "Whiting and other hakes", "silver, red and offshore hake"),
    Species("flatfish", "Flatfish", "flounders, soles, plaice"),
    Species("lobster", "Lobsters", "kept or not"),
    Species("crab", "Crabs and shellfish", "crabs, scallops, whelks, clams"),
    Species("skate", "Skates and rays", ""),
    Species("cod", "Cod, haddock and the like", "pollock too"),
    Species("school", "Fish in schools", "herring, mackerel, butterfish, scup"),
    Species("squid", "Squid", ""),
    Species("dogfish", "Dogfish", ""),
    Species("other", "All other", ""),
)
BY_KEY = {species.key: species for species in SPECIES}

WITHOUT, WITH = "without", "with"
"""The two tows of a pair, as in the names of form fields and of typed entries."""


def name_of(key):
    """Return the name of a group of species; its key if there is none such any more."""
    return BY_KEY[key].name if key in BY_KEY else key
