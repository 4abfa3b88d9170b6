"""
Drawings of a rig: one description of a scene, and renderers that show it.

``scene`` holds the shapes, ``svg`` and ``png`` show them; ``plan``, ``straight``,
``side``, ``dropper``, ``legs`` and ``area`` each make one kind of scene,
and ``in_flight`` a whole net under tow from three sides.
"""
