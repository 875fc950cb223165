/* shown.c - what a terminal, a page or a table gets to see of text that others wrote: no commands to the screen. */
#include "base/shown.h"

#include <aperta/base.h>

#include <string.h>

gboolean base_is_command(gunichar c)
{
    return g_unichar_iscntrl(c) || c == 0x061C || c == 0x200E || c == 0x200F || (c >= 0x2028 && c <= 0x202E) ||
           (c >= 0x2066 && c <= 0x2069) || c == 0xFFFE || c == 0xFFFF;
}

static char *shown(const char *text, const char *line_feed)
{
    g_autofree char *valid = g_utf8_make_valid(text != NULL ? text : "", -1);
    GString *out = g_string_sized_new(strlen(valid));

    for (const char *at = valid; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        if (c == '\n')
            g_string_append(out, line_feed);
        else if (c == '\t')
            g_string_append_c(out, ' ');
        else if (base_is_command(c))
            g_string_append(out, "�");
        else
            g_string_append_unichar(out, c);
    }
    return g_string_free(out, FALSE);
}

char *aperta_shown(const char *text)
{
    return shown(text, " ");
}

char *aperta_shown_lines(const char *text)
{
    return shown(text, "\n");
}
