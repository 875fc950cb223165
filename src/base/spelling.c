/* spelling.c - what a misspelt name may have meant: the nearest of the names there are, counting letters left out, put
 * in, changed or swapped with their neighbour (Damerau 1964, Commun. ACM 7:171; in the restricted form). */
#include <aperta/base.h>

#include <string.h>

enum { NAME_MAX_BYTES = 40 };

static guint least(guint a, guint b, guint c)
{
    return MIN(MIN(a, b), c);
}

static guint slips_between(const char *a, const char *b)
{
    gsize n_a = strlen(a), n_b = strlen(b);
    guint slips[NAME_MAX_BYTES + 1][NAME_MAX_BYTES + 1];

    if (n_a > NAME_MAX_BYTES || n_b > NAME_MAX_BYTES)
        return G_MAXUINT;
    for (gsize i = 0; i <= n_a; i++) {
        for (gsize k = 0; k <= n_b; k++) {
            if (i == 0 || k == 0) {
                slips[i][k] = (guint)(i + k);
                continue;
            }
            slips[i][k] = least(slips[i - 1][k] + 1, slips[i][k - 1] + 1, slips[i - 1][k - 1] + (a[i - 1] != b[k - 1]));
            if (i > 1 && k > 1 && a[i - 1] == b[k - 2] && a[i - 2] == b[k - 1])
                slips[i][k] = MIN(slips[i][k], slips[i - 2][k - 2] + 1);
        }
    }
    return slips[n_a][n_b];
}

const char *aperta_name_nearest(const char *word, const char *const *names, gsize n)
{
    guint fewest = (guint)strlen(word) / 3 + 1; /* with more than one slip in three letters it is another word */
    const char *nearest = NULL;

    for (gsize i = 0; i < n; i++) {
        guint slips = slips_between(word, names[i]);
        if (slips < fewest) {
            fewest = slips;
            nearest = names[i];
        }
    }
    return nearest;
}

char *aperta_name_hint(const char *word, const char *const *names, gsize n)
{
    const char *nearest = aperta_name_nearest(word, names, n);

    return nearest == NULL ? g_strdup("") : g_strdup_printf("; did you mean \"%s\"?", nearest);
}
