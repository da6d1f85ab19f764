"""What bore and tone holes do to each note: a transfer-matrix model of the recorder."""
