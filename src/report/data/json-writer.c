/* json-writer.c - RFC 8259 text, two spaces an indent. */
#include "report/data/json-writer.h"
#include "words/words.h"

#include <math.h>

static void append_quoted(GString *out, const char *text)
{
    g_autofree char *valid = g_utf8_make_valid(text, -1);

    g_string_append_c(out, '"');
    for (const char *at = valid; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        if (c == '"' || c == '\\')
            g_string_append_printf(out, "\\%c", (char)c);
        else if (base_is_command(c))
            g_string_append_printf(out, "\\u%04x", c); /* nothing is lost, and no terminal obeys it */
        else
            g_string_append_unichar(out, c);
    }
    g_string_append_c(out, '"');
}

static void new_line(json_writer *json)
{
    g_string_append_c(json->out, '\n');
    for (int i = 0; i < json->depth; i++)
        g_string_append(json->out, "  ");
}

/* Comma, line and key: all that stands before a value. */
static void lead(json_writer *json, const char *key)
{
    if (!json->first)
        g_string_append_c(json->out, ',');
    if (json->inline_depth > 0) {
        if (!json->first)
            g_string_append_c(json->out, ' ');
    } else if (json->depth > 0) {
        new_line(json);
    }
    if (key != NULL) {
        append_quoted(json->out, key);
        g_string_append(json->out, ": ");
    }
    json->first = FALSE;
}

void json_open(json_writer *json, const char *key, char bracket)
{
    lead(json, key);
    g_string_append_c(json->out, bracket);
    json->depth++;
    if (json->inline_depth > 0)
        json->inline_depth++;
    json->first = TRUE;
}

void json_open_inline(json_writer *json, const char *key, char bracket)
{
    json_open(json, key, bracket);
    if (json->inline_depth == 0)
        json->inline_depth = 1;
}

void json_close(json_writer *json, char bracket)
{
    json->depth--;
    if (json->inline_depth > 0)
        json->inline_depth--;
    else if (!json->first)
        new_line(json);
    g_string_append_c(json->out, bracket);
    json->first = FALSE;
}

void json_text(json_writer *json, const char *key, const char *text)
{
    lead(json, key);
    if (text != NULL)
        append_quoted(json->out, text);
    else
        g_string_append(json->out, "null");
}

void json_number(json_writer *json, const char *key, double value, int decimals)
{
    lead(json, key);
    if (isfinite(value))
        words_append_number(json->out, value, decimals);
    else
        g_string_append(json->out, "null");
}

void json_number_if(json_writer *json, const char *key, gboolean known, double value, int decimals)
{
    json_number(json, key, known ? value : NAN, decimals);
}

void json_integer(json_writer *json, const char *key, int value)
{
    lead(json, key);
    g_string_append_printf(json->out, "%d", value);
}

void json_boolean(json_writer *json, const char *key, gboolean value)
{
    lead(json, key);
    g_string_append(json->out, value ? "true" : "false");
}

void json_null(json_writer *json, const char *key)
{
    json_text(json, key, NULL);
}
