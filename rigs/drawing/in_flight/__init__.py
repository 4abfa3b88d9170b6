"""
A net in flight, before and after a change: from ahead, from the side and from above.

``places`` has where its parts are, ``lens`` puts them on a drawing, ``parts`` draws them and
``changes`` says what a change does to the footrope. ``ahead``, ``aside`` and ``above`` each make
one kind of scene of a ``rigs.physics.flight.Flown``, or of two. ``five_places`` draws a net of
which no more is known than its heights.
"""

from .above import flight_from_above
from .ahead import flight_from_ahead
from .aside import flight_from_the_side
from .five_places import five_places

__all__ = ["five_places", "flight_from_above", "flight_from_ahead", "flight_from_the_side"]
