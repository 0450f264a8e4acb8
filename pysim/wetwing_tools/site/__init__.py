"""The course as a static site: page notation, checks, generated pages, and the plugin that ties them."""
