"""A paper of exercises as sheets for print: the questions, and their key."""

from wetwing_tools.paper.sheets import key_html, paper_html

__all__ = ["key_html", "paper_html"]
