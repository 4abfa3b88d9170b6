"""
Paired tows: entered by the fishermen, shared as they chose, read together as evidence.

``species`` lists what a catch is sorted into, ``forms`` and ``keeping`` take pairs in,
``pooled`` decides what goes into the fleet's sums, ``words`` and ``figures`` tell it.
"""
