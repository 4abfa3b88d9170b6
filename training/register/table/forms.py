"""The form for a register to import."""

import uuid

from django import forms
from django.utils.translation import gettext_lazy


class UploadForm(forms.Form):
    """A file; ``key`` makes the form sent twice read it once."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    file = forms.FileField(
        label=gettext_lazy("The register, as a CSV or XLSX file"),
        max_length=200,
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,.txt,.xlsx"}),
        error_messages={
            "required": gettext_lazy("Choose a file first."),
            "empty": gettext_lazy("The file is empty."),
        },
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["key"].initial = uuid.uuid4
