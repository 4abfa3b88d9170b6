"""Who and what there is in the demo: all of it invented."""

from typing import NamedTuple

SEED = 1867

HARBOURS = ("Kettle Harbor", "Marrow Point", "Gannet Cove", "Eastlight")

# Ten vessels a harbor, in the order of the harbors.
VESSELS = (
    ("Sanderling", "Dunlin", "Turnstone", "Whimbrel", "Petrel")
    + ("Guillemot", "Fulmar", "Eider", "Kittiwake", "Merganser")
    + ("Phalarope", "Plover", "Curlew", "Scoter", "Razorbill")
    + ("Gadwall", "Bittern", "Killdeer", "Osprey", "Teal")
    + ("Dovekie", "Gannet", "Shearwater", "Jaeger", "Skua")
    + ("Murre", "Puffin", "Bufflehead", "Goldeneye", "Pintail")
    + ("Willet", "Godwit", "Yellowlegs", "Oystercatcher", "Avocet")
    + ("Cormorant", "Egret", "Heron", "Wigeon", "Storm Petrel")
)
VESSEL_FEET = (38, 84)

OFFICERS_GROUP = "Tern Sound officers"
OFFICERS_CODE = "CUTTER24"
STAFF_GROUP = "Tern Sound Fisheries Extension"

TRAINEES, OFFICERS, STAFF = 90, 6, 3

# fmt: off
FIRST_NAMES = (
    "Abel", "Alma", "Anders", "Beck", "Bram", "Cal", "Cleo", "Corin", "Dara", "Dell", "Edda",
    "Elias", "Esme", "Finn", "Fern", "Greer", "Hale", "Hollis", "Ida", "Ivo", "Jory", "Juno",
    "Kell", "Kit", "Lark", "Leif", "Linnea", "Mabel", "Marlo", "Nell", "Nils", "Odell",
    "Orla", "Perrin", "Quill", "Rhea", "Roan", "Sable", "Signe", "Tamsin", "Teague", "Ulla",
    "Vance", "Veda", "Wilder", "Wren", "Yara", "Zeb",
)
LAST_NAMES = (
    "Ackerby", "Amberly", "Barrowby", "Birkhill", "Caskie", "Coldwater", "Cranmere", "Dallow",
    "Denholt", "Eastry", "Ebbsworth", "Fairlie", "Fenwright", "Gallowby", "Garrick",
    "Halloway", "Harbin", "Inchbald", "Jessop", "Kelder", "Kittering", "Larkham", "Lindell",
    "Marsden", "Mallory", "Netherby", "Norring", "Oakshaw", "Ormsby", "Pellow", "Penhurst",
    "Quarles", "Ravensby", "Rudd", "Saltmarsh", "Selwick", "Tarbet", "Thornley", "Underby",
    "Varley", "Wexcombe", "Whitlow", "Yarrow",
)
# fmt: on


class Login(NamedTuple):
    """A person of the demo whom anyone may sign in as."""

    role: str
    name: str
    email: str


DOMAIN = "tern.example"
LOGINS = {
    login.role: login
    for login in (
        Login("staff", "Robin Tidewell", f"staff@{DOMAIN}"),
        Login("officer", "Piper Strand", f"officer@{DOMAIN}"),
        Login("trainee", "Wren Halyard", f"trainee@{DOMAIN}"),
    )
}

# For everyone in the demo, which is why nothing real belongs into its database.
PASSWORD = "tern over the sound"


def group_name(harbor):
    """Return the name of the group for the crews of ``harbor``."""
    return f"{harbor} crews"


def group_code(harbor):
    """Return the code by which one joins the crews of ``harbor``."""
    return harbor.split()[0].upper() + "24"


def names(rng, number):
    """Return ``number`` different made-up names, none of them that of a login."""
    every = [f"{first} {last}" for first in FIRST_NAMES for last in LAST_NAMES]
    return rng.sample(every, number)


def email(name):
    """Return the address of a made-up person, in a domain that can never exist."""
    return f"{name.lower().replace(' ', '.')}@{DOMAIN}"


def phone(number):
    """Return a made-up phone number: 555-0100 to 555-0199 are kept free for stories."""
    return f"508-555-{100 + number % 100:04}"
