/* values.c - what the values of options may say: numbers, times, and files of one's own beside names. */
#include "cli-private.h"

#include <math.h>
#include <string.h>

gboolean cli_parse_number(const char *text, double *value)
{
    g_autofree char *pointed = g_strdelimit(g_strdup(text), ",", '.'); /* a decimal comma: no option takes thousands */
    char *end;

    *value = g_ascii_strtod(pointed, &end);
    return end != pointed && *end == '\0' && isfinite(*value);
}

gboolean cli_parse_whole(const char *text, int least, int most, int *value)
{
    gint64 number;

    if (text[0] == '+' && g_ascii_isdigit(text[1]))
        text++;
    if (!g_ascii_string_to_signed(text, 10, least, most, &number, NULL))
        return FALSE;
    *value = (int)number;
    return TRUE;
}

gboolean cli_parse_time(const char *text, double *seconds)
{
    const char *colon = strchr(text, ':');
    double minutes = 0.0;

    if (colon != NULL) {
        g_autofree char *before = g_strndup(text, (gsize)(colon - text));
        if (!cli_parse_number(before, &minutes) || minutes < 0.0 || minutes != floor(minutes))
            return FALSE;
        text = colon + 1;
    }
    if (!cli_parse_number(text, seconds) || *seconds < 0.0 || (colon != NULL && *seconds >= 60.0))
        return FALSE;
    *seconds += 60.0 * minutes;
    return TRUE;
}

gboolean cli_is_path(const char *name, const char *ending)
{
    return strchr(name, G_DIR_SEPARATOR) != NULL || g_str_has_suffix(name, ending);
}

char *cli_checked_file(const char *name, const char *ending)
{
    if (cli_is_path(name, ending) || !g_file_test(name, G_FILE_TEST_EXISTS))
        return g_strdup(name);
    return g_build_filename(".", name, NULL);
}
