import sys
from pathlib import Path

from . import files, unmarked

for path in map(Path, sys.argv[1:] or files(Path())):
    for line, text in unmarked(path):
        print(f"{path}:{line}: {' '.join(text.split())[:90]}")
