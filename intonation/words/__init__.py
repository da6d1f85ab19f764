"""Every sentence that a result is put into."""
