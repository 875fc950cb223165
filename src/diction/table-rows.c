/* table-rows.c - the tables of this folder: lines of fields between tabs, with remarks behind '#'. */
#include "diction/diction-private.h"

char *diction_refdata_path(const char *name)
{
    return g_build_filename(aperta_refdata_dir(), "diction", name, NULL);
}

static char *read_text(const char *path, GError **error)
{
    g_autoptr(GError) cause = NULL;
    g_autofree char *text = NULL;
    gsize n;

    if (!g_file_get_contents(path, &text, &n, &cause)) {
        gboolean missing = g_error_matches(cause, G_FILE_ERROR, G_FILE_ERROR_NOENT);
        g_set_error(error, APERTA_ERROR, missing ? APERTA_ERROR_NOT_FOUND : APERTA_ERROR_UNREADABLE,
                    missing ? "%s: no such file" : "%s: cannot be read", path);
        return NULL;
    }
    if (!g_utf8_validate(text, (gssize)n, NULL)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s:1: expected text in UTF-8, found other bytes", path);
        return NULL;
    }
    return g_steal_pointer(&text);
}

gboolean diction_table_read(const char *path, diction_row_func row, gpointer data, GError **error)
{
    g_autofree char *text = read_text(path, error);
    if (text == NULL)
        return FALSE;
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);

    for (guint i = 0; lines[i] != NULL; i++) {
        g_strchomp(lines[i]);
        if (lines[i][0] == '\0' || lines[i][0] == '#')
            continue;
        g_auto(GStrv) fields = g_strsplit(lines[i], "\t", -1);
        g_autofree char *place = g_strdup_printf("%s:%u", path, i + 1);
        for (char **field = fields; *field != NULL; field++)
            g_strstrip(*field);
        if (!row(fields, g_strv_length(fields), place, data, error))
            return FALSE;
    }
    return TRUE;
}
