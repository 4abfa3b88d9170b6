"""The arrays that go in and out of the statistics, by what they hold."""

import numpy as np
from numpy.typing import NDArray

Figures = NDArray[np.float64]
Counts = NDArray[np.int64]
Flags = NDArray[np.bool_]
