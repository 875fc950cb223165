/* error.c - the one error domain. */
#include <aperta/base.h>

/* clang-format off: the name is a quark's, not a subtraction */
G_DEFINE_QUARK(aperta - error - quark, aperta_error)
/* clang-format on */
