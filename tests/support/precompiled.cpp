// Carries the precompiled headers of the tests; nothing else.
