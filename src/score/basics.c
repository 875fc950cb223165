/* basics.c - what every reader needs and what needs none of them: faults told with file and line, numbers in texts. */
#include "score/score-private.h"

#include <math.h>
#include <string.h>

gboolean score_fail(GError **error, const char *name, guint line, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    g_autofree char *said = g_strdup_vprintf(format, arguments);
    g_autofree char *text = aperta_shown(said); /* it may quote the score */
    va_end(arguments);
    if (line > 0)
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s:%u: %s", name, line, text);
    else
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: %s", name, text);
    return FALSE;
}

gboolean score_number(const char *text, double *value)
{
    char *end;

    if (text == NULL)
        return FALSE;
    while (g_ascii_isspace(*text))
        text++;
    /* no "inf", "nan" or "0x10", which strtod would take */
    if (text[strspn(text, "+-0123456789.eE \t\r\n")] != '\0')
        return FALSE;
    *value = g_ascii_strtod(text, &end);
    while (g_ascii_isspace(*end))
        end++;
    return end != text && *end == '\0' && isfinite(*value);
}
