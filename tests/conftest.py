"""What holds for every test: mathematics libraries keep to one thread, as in the program."""

import os

from intonation.cli.main import ONE_THREAD

# before numpy is imported for the first time, by whichever test comes first
for name in ONE_THREAD:
    os.environ.setdefault(name, "1")
