/* error.c - the one error domain. */
#include <aperta/base.h>

G_DEFINE_QUARK(aperta-error-quark, aperta_error)
