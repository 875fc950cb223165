/* mxl.c - the score inside a compressed MusicXML file (W3C MusicXML 4.0, "Compressed .mxl files"): a zip archive whose
 * META-INF/container.xml names the score as its first <rootfile>. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <libxml/parser.h>
#include <libxml/tree.h>
#include <string.h>
#include <zip.h>

gboolean score_is_zip(const score_input *input)
{
    return input->n >= 4 && memcmp(input->bytes, "PK", 2) == 0 &&
           (memcmp(input->bytes + 2, "\3\4", 2) == 0 || memcmp(input->bytes + 2, "\5\6", 2) == 0);
}

/* Reads a member, and never more than max bytes, whatever the archive promises. */
static gboolean read_member(zip_t *archive, const score_input *input, const char *member, gsize max, char **bytes,
                            gsize *n, GError **error)
{
    zip_file_t *file = zip_fopen(archive, member, 0);
    g_autoptr(GByteArray) all = g_byte_array_new();
    guint8 block[65536];
    zip_int64_t got = 0;

    if (file == NULL)
        return score_fail(error, input->name, 0, "%s in the archive cannot be read: %s (export the score again)",
                          member, zip_strerror(archive));
    while (all->len <= max && (got = zip_fread(file, block, sizeof block)) > 0)
        g_byte_array_append(all, block, (guint)got);
    zip_fclose(file);
    if (all->len > max)
        return score_fail(error, input->name, 0, "unzipped larger than %u MB, which no score is (" SCORE_TOO_LARGE ")",
                          SCORE_MB_MAX);
    if (got < 0)
        return score_fail(error, input->name, 0, "%s in the archive is damaged (export the score again)", member);
    *n = all->len;
    g_byte_array_append(all, (const guint8 *)"", 1);
    *bytes = (char *)g_byte_array_free(g_steal_pointer(&all), FALSE);
    return TRUE;
}

static const xmlNode *first_named(const xmlNode *node, const char *name)
{
    for (node = node != NULL ? node->children : NULL; node != NULL; node = node->next)
        if (node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0)
            return node;
    return NULL;
}

/* A copy of an attribute's value; NULL: none. */
static char *attribute_of(const xmlNode *node, const char *name)
{
    xmlChar *value = xmlGetNoNsProp(node, BAD_CAST name);
    char *copy = g_strdup((const char *)value);

    xmlFree(value);
    return copy;
}

/* Score, by the type that a <rootfile> gives or leaves out? */
static gboolean is_score_type(const char *type)
{
    return type == NULL || strstr(type, "musicxml") != NULL || g_str_has_suffix(type, "/xml");
}

/* full-path of the first <rootfile> that is said to be a score (the score is to be the first of all, and is not in
 * every file); NULL: none. */
static char *root_path(const char *container, gsize n)
{
    xmlDoc *doc =
        xmlReadMemory(container, (int)n, NULL, NULL, XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
    char *path = NULL;

    if (doc == NULL)
        return NULL;
    const xmlNode *root = first_named(first_named((xmlNode *)doc, "container"), "rootfiles");
    for (const xmlNode *file = root != NULL ? root->children : NULL; file != NULL && path == NULL; file = file->next) {
        if (file->type != XML_ELEMENT_NODE || strcmp((const char *)file->name, "rootfile") != 0)
            continue;
        g_autofree char *type = attribute_of(file, "media-type");
        if (is_score_type(type))
            path = attribute_of(file, "full-path");
    }
    xmlFreeDoc(doc);
    return path;
}

static gboolean has_score_ending(const char *member)
{
    return (g_str_has_suffix(member, ".xml") || g_str_has_suffix(member, ".musicxml")) &&
           !g_str_has_prefix(member, "META-INF/");
}

/* Where the score is; NULL: there is none. */
static char *score_member(zip_t *archive, const score_input *input)
{
    g_autofree char *container = NULL;
    g_autoptr(GError) ignored = NULL;
    gsize n;

    if (zip_name_locate(archive, "META-INF/container.xml", 0) >= 0 &&
        read_member(archive, input, "META-INF/container.xml", SCORE_CONTAINER_BYTES_MAX, &container, &n, &ignored)) {
        g_autofree char *path = root_path(container, n);
        if (path != NULL && zip_name_locate(archive, path, 0) >= 0)
            return g_steal_pointer(&path);
    }
    /* a container that is missing or wrong: archives made by hand */
    zip_int64_t members = MIN(zip_get_num_entries(archive, 0), SCORE_ZIP_MEMBERS_MAX);
    for (zip_int64_t i = 0; i < members; i++) {
        const char *member = zip_get_name(archive, (zip_uint64_t)i, 0);
        if (member != NULL && has_score_ending(member))
            return g_strdup(member);
    }
    return NULL;
}

gboolean score_unzip(const score_input *input, char **bytes, gsize *n, GError **error)
{
    zip_error_t fault;
    zip_error_init(&fault);
    zip_source_t *source = zip_source_buffer_create(input->bytes, input->n, 0, &fault);
    zip_t *archive = source != NULL ? zip_open_from_source(source, ZIP_RDONLY, &fault) : NULL;

    if (archive == NULL) {
        score_fail(error, input->name, 0, "damaged zip archive: %s (export the score again)",
                   zip_error_strerror(&fault));
        zip_source_free(source);
        zip_error_fini(&fault);
        return FALSE;
    }
    zip_error_fini(&fault);
    g_autofree char *member = score_member(archive, input);
    gboolean done = member != NULL
                        ? read_member(archive, input, member, SCORE_MB_MAX << 20, bytes, n, error)
                        : score_fail(error, input->name, 0,
                                     "there is no score in this zip archive (an .mxl file holds a MusicXML score)");
    zip_discard(archive);
    return done;
}
