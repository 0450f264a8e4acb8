"""What runs on a desk and never in a browser: command line, site plugin, runtime bundle."""
