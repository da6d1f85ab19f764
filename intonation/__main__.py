"""Lets ``python -m intonation`` do what the command does."""

import sys

from intonation.cli.main import main

sys.exit(main())
