/* json-writer.h - JSON with the members in the order they are written and every number rounded to what it is worth.
 * (json-glib writes doubles with 17 digits, 612.29999999999995; it reads our output back in the tests.) */
#ifndef REPORT_JSON_WRITER_H
#define REPORT_JSON_WRITER_H

#include <glib.h>

typedef struct {
    GString *out;
    int depth;
    int inline_depth; /* > 0: inside an object or array that stays on one line */
    gboolean first;   /* nothing written yet in the open object or array */
} json_writer;

/* key is NULL for the root and inside arrays. Everything opened is closed in turn. */
void json_open(json_writer *json, const char *key, char bracket); /* '{' or '[' */
void json_open_inline(json_writer *json, const char *key, char bracket);
void json_close(json_writer *json, char bracket); /* '}' or ']' */

void json_text(json_writer *json, const char *key, const char *text);             /* NULL: null */
void json_number(json_writer *json, const char *key, double value, int decimals); /* not finite: null */
void json_number_if(json_writer *json, const char *key, gboolean known, double value, int decimals);
void json_integer(json_writer *json, const char *key, int value);
void json_boolean(json_writer *json, const char *key, gboolean value);
void json_null(json_writer *json, const char *key);

#endif
