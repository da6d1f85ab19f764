"""The practice session as a state machine: tracker events and commands in, practice events out."""
