/* error.c - the one error domain. */
#include <aperta/base.h>

GQuark aperta_error_quark(void)
{
    return g_quark_from_static_string("aperta-error-quark");
}
