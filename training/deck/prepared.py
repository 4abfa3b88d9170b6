"""
Queries that are written once and then asked again and again for one person each.

To write the SQL of a small query takes Django longer than the database takes to answer it.
"""

from django.db import connection

HOLE = -(2**62)
"""Stands for the pk while a query is written; no row has it."""


class Prepared:
    """
    A query about people; ``build`` takes their pks and returns a queryset.

    Its SQL must not turn on anything but the pks.
    """

    def __init__(self, build):
        self.build = build
        self._written = {}

    def rows(self, pks):
        """
        Return the rows, tuples, of the people with these ``pks``; of a queryset of plain values.

        They have to be texts and numbers, as the database gives them: a day or a moment would
        come as it is kept.
        """
        pks = list(pks)
        if len(pks) != 1:
            return list(self.build(pks))
        with connection.cursor() as cursor:
            cursor.execute(*self._filled(pks[0]))
            return cursor.fetchall()

    def objects(self, model, pks):
        """Return the rows of a queryset of ``model``, whole, whatever is in them."""
        pks = list(pks)
        if len(pks) != 1:
            return list(self.build(pks))
        return list(model._base_manager.raw(*self._filled(pks[0])))

    def _filled(self, pk):
        if connection.vendor not in self._written:
            self._written[connection.vendor] = self.build([HOLE]).query.sql_with_params()
        sql, values = self._written[connection.vendor]
        return sql, [pk if value == HOLE else value for value in values]
