"""What the Makefile's targets run: setting up, checking, serving. Nothing here knows anything of fuel."""
