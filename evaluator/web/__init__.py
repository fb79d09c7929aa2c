"""The service for the browser: forms, pages and papers around the core. Works without JavaScript."""
