/* allocations.h - counts what the program that includes it allocates, where the C library lets it. One file of a
 * program may include it. */
#ifndef TESTS_ALLOCATIONS_H
#define TESTS_ALLOCATIONS_H

#include <glib.h>
#include <stdlib.h>

#if defined(__GLIBC__) && !defined(__SANITIZE_ADDRESS__)
#define COUNTS_ALLOCATIONS 1
static guint allocations;

extern void *__libc_malloc(size_t n);
void *malloc(size_t n)
{
    allocations++;
    return __libc_malloc(n);
}

extern void *__libc_calloc(size_t n, size_t size);
void *calloc(size_t n, size_t size)
{
    allocations++;
    return __libc_calloc(n, size);
}

extern void *__libc_realloc(void *old, size_t n);
void *realloc(void *old, size_t n)
{
    allocations++;
    return __libc_realloc(old, n);
}

extern void *__libc_memalign(size_t alignment, size_t n);
void *memalign(size_t alignment, size_t n);
void *memalign(size_t alignment, size_t n)
{
    allocations++;
    return __libc_memalign(alignment, n);
}

int posix_memalign(void **memory, size_t alignment, size_t n)
{
    allocations++;
    *memory = __libc_memalign(alignment, n);
    return *memory == NULL;
}
#else
#define COUNTS_ALLOCATIONS 0
static const guint allocations = 0;
#endif

#endif
