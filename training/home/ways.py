"""
The ways round the site: a few words for each sort of people, and the pages under each.

A page that leads to others answers for them: ``also`` names the views in which one is still
at that page. This is the only list of what stands in the navigation.
"""

from typing import NamedTuple

from django.urls import reverse
from django.utils.translation import gettext_lazy


class NavPage(NamedTuple):
    """One page in the navigation, by the name of its view."""

    at: str
    title: str
    also: tuple[str, ...] = ()

    def holds(self, view):
        """Return whether one who has ``view`` open is at this page."""
        return view == self.at or view in self.also


class NavWord(NamedTuple):
    """One word of the navigation; with a single page it is that page's own link."""

    title: str
    pages: tuple[NavPage, ...]


def _alone(at, title, *also):
    return NavWord(title, (NavPage(at, title, also),))


HOME = _alone("home", gettext_lazy("Home"))
CERTIFICATES = _alone(
    "certificates:mine",
    gettext_lazy("Certificates"),
    *("certification:mine", "certification:begin", "certification:exam", "certification:task"),
    *("certification:review", "certificates:certificate", "certificates:check"),
)
LESSONS = _alone("lessons:list", gettext_lazy("Lessons"), "lessons:detail")
PRACTICE = _alone(
    "exercises:list",
    gettext_lazy("Practice"),
    *("exercises:do", "exercises:marked", "exercises:next"),
    *("exercises:sea", "exercises:sea_task"),
    *("recall:start", "recall:review", "recall:rules", "recall:one_rule", "recall:set"),
    *("recall:answer", "recall:how", "recall:lesson"),
)
NETS = _alone(
    "nets:nets",
    gettext_lazy("My nets"),
    *("nets:net", "nets:net_new", "nets:net_edit", "nets:net_rename", "nets:log"),
    *("nets:tow_new", "nets:tow_edit", "nets:flight"),
)
TRIP = _alone("trips:trip", gettext_lazy("Can I fish here?"))
SHEETS = NavPage(
    "checks:checks",
    gettext_lazy("Check sheets"),
    (
        *("checks:check", "checks:check_new", "checks:check_step", "checks:check_head"),
        *("checks:check_compare", "checks:check_correct", "checks:thrown_away", "checks:copy"),
    ),
)
ROUNDS = NavPage(
    "calibration:rounds",
    gettext_lazy("Judging rounds"),
    (
        *("calibration:round", "calibration:new_round", "calibration:change_round"),
        *("calibration:report", "calibration:turn", "calibration:rig", "calibration:result"),
        *("calibration:practice", "calibration:practiced", "calibration:readings"),
    ),
)

VISITOR = (
    HOME,
    _alone("trying:kinds", gettext_lazy("Try a task"), "trying:task", "trying:marked"),
    _alone("trying:net", gettext_lazy("Plan my own net"), "trying:plan"),
    LESSONS,
)
TRAINEE = (HOME, LESSONS, PRACTICE, NETS, CERTIFICATES, TRIP)
OFFICER = (
    HOME,
    NavWord(gettext_lazy("Check a rig"), (SHEETS,)),
    NavWord(gettext_lazy("Judging rounds"), (ROUNDS,)),
    NavWord(
        gettext_lazy("Learn"),
        (*LESSONS.pages, *PRACTICE.pages, *CERTIFICATES.pages, *NETS.pages),
    ),
    TRIP,
)

PEOPLE = NavWord(
    gettext_lazy("People"),
    (
        NavPage("desk:calls", gettext_lazy("Who to call"), ("desk:calls_for", "desk:call")),
        NavPage(
            "desk:trainees",
            gettext_lazy("Everybody"),
            ("desk:trainee", "desk:trainee_record", "desk:trainee_rules"),
        ),
        NavPage(
            "desk:groups",
            gettext_lazy("Groups"),
            (
                *("desk:group", "desk:new_group", "desk:change_group", "desk:group_members"),
                "desk:group_live",
            ),
        ),
        NavPage(
            "desk:sessions",
            gettext_lazy("Sessions"),
            ("desk:session", "desk:new_session", "desk:change_session"),
        ),
        NavPage(
            "letters:letters",
            gettext_lazy("Letters"),
            (
                *("letters:letter", "letters:write", "letters:texts", "letters:new_text"),
                "letters:change_text",
            ),
        ),
    ),
)
VESSELS = NavWord(
    gettext_lazy("Vessels"),
    (
        NavPage(
            "register:vessels",
            gettext_lazy("All vessels"),
            (
                *("register:vessel", "register:vessel_new", "register:vessel_edit"),
                *("register:crew_new", "register:event_new", "register:event_correct"),
                *("register:event_withdraw", "register:vessel_remove", "register:vessel_merge"),
                *("register:removed_vessels", "register:stage_many"),
            ),
        ),
        NavPage("register:unmatched_sheets", gettext_lazy("Sheets without a vessel")),
        NavPage("register:harbors", gettext_lazy("Harbors"), ("register:harbor",)),
        NavPage(
            "register:import_register",
            gettext_lazy("Take in a register"),
            (
                *("register:import_columns", "register:import_questions"),
                *("register:import_draft", "register:import_undo"),
            ),
        ),
        NavPage("register:stages", gettext_lazy("What the stages mean")),
    ),
)
FIGURES = NavWord(
    gettext_lazy("Figures"),
    (
        NavPage("register:uptake", gettext_lazy("Uptake")),
        NavPage("register:waiting", gettext_lazy("How long converting takes")),
        NavPage("evidence:evidence", gettext_lazy("Evidence"), ("evidence:pair_owner",)),
        NavPage("desk:rules", gettext_lazy("Rules missed"), ("desk:missed_by",)),
        NavPage("desk:remembered", gettext_lazy("What stays")),
        NavPage("desk:way", gettext_lazy("Where people stop")),
        NavPage("certificates:measures", gettext_lazy("How good the exams are")),
        NavPage("desk:report", gettext_lazy("Season's report")),
    ),
)
STAFF = (
    _alone("home", gettext_lazy("Today")),
    PEOPLE,
    VESSELS,
    FIGURES,
    NavWord(gettext_lazy("Checks"), (SHEETS, ROUNDS)),
    NavWord(
        gettext_lazy("Learn"),
        (*LESSONS.pages, *PRACTICE.pages, *CERTIFICATES.pages, *NETS.pages, *TRIP.pages),
    ),
)

ACCOUNT = NavPage(
    "people:account",
    gettext_lazy("Account"),
    ("people:password", "people:phone", "people:phone_set_up", "privacy:data"),
)
SEA = NavPage("sea:ready", gettext_lazy("Ready for sea"), ("inbox:arrived", "inbox:arrival"))
OWN = (
    ACCOUNT,
    SEA,
    NavPage("register:own_vessels", gettext_lazy("My vessel")),
    NavPage("evidence:pairs", gettext_lazy("My paired tows"), ("evidence:pair_new",)),
)
ADMINISTRATION = (
    NavPage(
        "accounts:accounts",
        gettext_lazy("Accounts"),
        ("people:phone_resets", "accounts:account", "accounts:invite", "accounts:requests"),
    ),
    NavPage(
        "certification:requirements_list",
        gettext_lazy("Requirements of certificates"),
        (
            *("certification:requirements", "certification:change_requirements"),
            *("certification:changes", "certification:change", "certification:new_requirements"),
        ),
    ),
    NavPage("certificates:issued", gettext_lazy("Certificates issued")),
    NavPage(
        "certification:supervisions",
        gettext_lazy("Supervised exams"),
        ("certification:supervision", "certification:new_supervision"),
    ),
    NavPage(
        "certification:questions",
        gettext_lazy("Questions about results"),
        ("certification:question",),
    ),
    NavPage(
        "rulesets:shelf",
        gettext_lazy("Rule sets"),
        ("rulesets:version", "rulesets:edit", "rulesets:start"),
    ),
    NavPage("work:jobs", gettext_lazy("Long work"), ("work:job",)),
)
WHOLE_FLEET = (
    NavPage("people:signing_up", gettext_lazy("Signing up")),
    NavPage("interchange:overview", gettext_lazy("Data export")),
    NavPage("office:well", gettext_lazy("Is the site well?")),
)
ADMINISTRATOR = (NavPage("admin:index", gettext_lazy("Records (admin)")),)


class NavShown(NamedTuple):
    """A word or page as it is shown: where it leads, and whether one is there."""

    title: str
    url: str
    here: bool
    pages: tuple["NavShown", ...] = ()


def _page(page, view):
    return NavShown(page.title, reverse(page.at), page.holds(view))


def _word(word, view):
    pages = tuple(_page(page, view) for page in word.pages)
    here = any(page.here for page in pages)
    return NavShown(word.title, pages[0].url, here, pages if len(pages) > 1 else ())


def words(user, view):
    """Return the words for ``user``, each a NavShown; ``view`` is the name of the open one."""
    if not user.is_authenticated:
        chosen = VISITOR
    elif user.is_staff:
        chosen = STAFF
    else:
        chosen = OFFICER if user.is_officer else TRAINEE
    return [_word(word, view) for word in chosen]


def own(user, view):
    """Return what stands under a person's own name, without what administers the site."""
    pages = OWN[:2] if user.is_staff else OWN
    return [_page(page, view) for page in pages]


def administration(user, view):
    """Return the pages that administer the site, for those who may open them."""
    if not user.is_staff:
        return []
    pages = ADMINISTRATION + (WHOLE_FLEET if user.sees_whole_fleet else ())
    pages += ADMINISTRATOR if user.is_superuser else ()
    return [_page(page, view) for page in pages]
