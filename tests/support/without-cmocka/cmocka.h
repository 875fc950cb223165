/* cmocka.h - found where the real one is not: configure adds this folder then. */
#error "the tests need cmocka, which configure did not find (Debian: libcmocka-dev); install it and configure again"
