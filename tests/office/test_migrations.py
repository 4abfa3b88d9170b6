"""The version before goes on serving while migrations run, so they take nothing from it."""

import pytest
from django.db import models
from django.db.migrations import RunPython, operations
from django.db.migrations.loader import MigrationLoader
from django.db.models import NOT_PROVIDED

# Up to here migrations ran before this was asked of them.
BEFORE = {
    "calibration": 2,
    "certification": 3,
    "checks": 5,
    "desk": 5,
    "evidence": 2,
    "exercises": 2,
    "home": 1,
    "interchange": 1,
    "lessons": 2,
    "letters": 1,
    "nets": 3,
    "people": 4,
    "predicting": 1,
    "privacy": 1,
    "recall": 1,
    "register": 8,
    "rulesets": 1,
}
TAKES = (
    operations.RemoveField,
    operations.DeleteModel,
    operations.RenameField,
    operations.RenameModel,
    operations.AlterModelTable,
    operations.RunSQL,
)


def _steps(migration):
    """Yield what ``migration`` does to the database."""
    for each in migration.operations:
        yield from getattr(each, "database_operations", [each])


def _column(field):
    """Return what an old version's writing into the column of ``field`` rests on."""
    return type(field), field.null, field.max_length or 0


def _harm(step, state, app):
    """Return how ``step`` would harm the version before; None if it does not."""
    if isinstance(step, TAKES):
        return "takes away or renames what it uses"
    if isinstance(step, operations.AddField):
        field = step.field
        if isinstance(field, models.ManyToManyField) or field.null:
            return None
        if field.db_default is NOT_PROVIDED:
            return "has a column that it does not fill: give it null=True or a db_default"
    if isinstance(step, operations.AlterField):
        was = state.models[app, step.model_name_lower].fields[step.name]
        (kind, null, length), (new_kind, new_null, new_length) = map(_column, (was, step.field))
        if kind is not new_kind or (null and not new_null) or (new_length or 1e9) < length:
            return "may refuse what it writes"
    return None


def harms(migration, state):
    """Return the steps of ``migration`` that would harm the version before, from ``state``."""
    found, app = [], migration.app_label
    for step in _steps(migration):
        if why := _harm(step, state, app):
            found.append(f"{migration}: {step.describe()} {why}")
        step.state_forwards(app, state)
    return found


def ours(loader):
    """Yield the migrations that are held to this."""
    for (app, name), migration in sorted(loader.disk_migrations.items()):
        is_ours = type(migration).__module__.startswith("training.")
        if is_ours and int(name[:4]) > BEFORE.get(app, 0):
            yield migration


LOADER = MigrationLoader(None)


def before(migration):
    """Return the state of all models before ``migration``."""
    return LOADER.project_state((migration.app_label, migration.name), at_end=False)


def test_no_migration_harms_the_version_that_serves_while_it_runs():
    open_ones = [each for each in ours(LOADER) if not getattr(each, "closes_the_site", False)]
    assert open_ones
    assert [harm for each in open_ones for harm in harms(each, before(each))] == []


def test_each_migration_can_be_taken_back():
    lasting = [
        f"{migration}: {step.describe()}"
        for migration in LOADER.disk_migrations.values()
        if type(migration).__module__.startswith("training.")
        for step in _steps(migration)
        if isinstance(step, RunPython) and not step.reversible
    ]
    assert lasting == []


class _Step:
    app_label = "office"

    def __init__(self, *steps):
        self.operations = steps


ADDED = {"model_name": "backup", "name": "note"}
NAMED = {"model_name": "backup", "name": "name"}


@pytest.mark.parametrize(
    ("step", "is_harm"),
    [
        (operations.RemoveField(**NAMED), True),
        (operations.RenameField("backup", "name", "file"), True),
        (operations.DeleteModel("Backup"), True),
        (operations.AddField(**ADDED, field=models.CharField(max_length=9, default="")), True),
        (operations.AddField(**ADDED, field=models.CharField(max_length=9, null=True)), False),
        (operations.AddField(**ADDED, field=models.BooleanField(db_default=False)), False),
        (operations.AlterField(**NAMED, field=models.CharField(max_length=99)), True),
        (operations.AlterField(**NAMED, field=models.CharField(max_length=101)), False),
        (operations.AlterField(**NAMED, field=models.TextField()), True),
        (operations.AddIndex("backup", models.Index(fields=["begun"], name="i")), False),
    ],
)
def test_what_harms_is_found(step, is_harm):
    state = LOADER.project_state(("office", "0001_backup"))
    assert bool(harms(_Step(step), state)) == is_harm
