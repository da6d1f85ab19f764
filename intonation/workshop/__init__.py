"""What is wrong with an instrument, what to try, and what a trial did."""
