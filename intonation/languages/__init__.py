"""The files of other languages: which one is asked for, what is in it, and what may be wrong."""
