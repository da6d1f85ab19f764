"""Reports as pages to print: one HTML file each, with its drawings inside."""
