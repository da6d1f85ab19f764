"""Music files of other programs: Standard MIDI Files and MusicXML, read into plain notes."""
