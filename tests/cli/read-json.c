/* read-json FILE PATH... - prints what stands at each JSONPath of a file, one line a path; fails on invalid JSON. */
#include <json-glib/json-glib.h>
#include <stdio.h>

static gboolean print_path(const char *path, JsonNode *root, GError **error)
{
    g_autoptr(JsonNode) found = json_path_query(path, root, error);

    if (found == NULL)
        return FALSE;
    JsonArray *list = json_node_get_array(found);
    printf("%s", path);
    for (guint i = 0; i < json_array_get_length(list); i++) {
        g_autofree char *text = json_to_string(json_array_get_element(list, i), FALSE);
        printf(" %s", text);
    }
    printf("\n");
    return TRUE;
}

int main(int argc, char **argv)
{
    g_autoptr(JsonParser) parser = json_parser_new();
    g_autoptr(GError) error = NULL;
    gboolean good = argc > 2 && json_parser_load_from_file(parser, argv[1], &error);
    JsonNode *root = json_parser_get_root(parser); /* NULL: an empty file */

    good = good && root != NULL;
    for (int i = 2; good && i < argc; i++)
        good = print_path(argv[i], root, &error);
    if (!good)
        fprintf(stderr, "read-json: %s\n",
                error != NULL ? error->message : "nothing to read (usage: read-json FILE PATH...)");
    return good ? 0 : 1;
}
