"""A database field for e-mail addresses that do not care about case."""

from django.db import models


class LowercaseEmailField(models.EmailField):
    """
    An e-mail address kept and looked up in lower case.

    People type the same address with and without a capital, and phones add one:
    two accounts must not come of it.
    """

    def to_python(self, value):
        value = super().to_python(value)
        return value if value is None else value.strip().lower()

    def get_prep_value(self, value):
        return self.to_python(super().get_prep_value(value))

    def pre_save(self, model_instance, add):
        value = self.to_python(super().pre_save(model_instance, add))
        setattr(model_instance, self.attname, value)
        return value
