"""The page that a household or a client opens."""
