"""What is noted of a call."""

from django import forms


class CalledForm(forms.Form):
    """That the call was made; ``key`` comes with the page, ``note`` may be left empty."""

    key = forms.UUIDField()
    note = forms.CharField(required=False, max_length=2000)
