/* confine.c - gives up, before the first byte is read, all that decoding does not need. */
#include "decode-private.h"
#include "decode-tuning.h"

#include <sys/resource.h>
#include <unistd.h>

#ifdef HAVE_SECCOMP
#include <errno.h>
#include <seccomp.h>
#include <sys/mman.h>
#endif

#if defined __SANITIZE_ADDRESS__
#define SANITIZED 1 /* its shadow takes terabytes of address space, and its report needs files */
#elif defined __has_feature
#if __has_feature(address_sanitizer)
#define SANITIZED 1
#endif
#endif
#ifndef SANITIZED
#define SANITIZED 0
#endif

static bool limit(int what, rlim_t most)
{
    struct rlimit now;

    if (getrlimit(what, &now) != 0)
        return false;
    most = now.rlim_max != RLIM_INFINITY && now.rlim_max < most ? now.rlim_max : most;
    return setrlimit(what, &(struct rlimit){most, most}) == 0;
}

#ifdef HAVE_SECCOMP
/* What reading, writing, memory and ending need. Everything else fails with EPERM. Memory is never made executable. */
static bool filter_calls(void)
{
    static const int allowed[] = {
        SCMP_SYS(read),           SCMP_SYS(pread64),       SCMP_SYS(lseek),
        SCMP_SYS(write),          SCMP_SYS(brk),           SCMP_SYS(munmap),
        SCMP_SYS(mremap),         SCMP_SYS(madvise),       SCMP_SYS(futex),
        SCMP_SYS(getrandom),      SCMP_SYS(clock_gettime), SCMP_SYS(rt_sigreturn),
        SCMP_SYS(rt_sigprocmask), SCMP_SYS(exit),          SCMP_SYS(exit_group),
    };
    scmp_filter_ctx filter = seccomp_init(SCMP_ACT_ERRNO(EPERM));
    bool good = filter != NULL;

    for (unsigned i = 0; good && i < sizeof allowed / sizeof *allowed; i++)
        good = seccomp_rule_add(filter, SCMP_ACT_ALLOW, allowed[i], 0) == 0;
    const struct scmp_arg_cmp not_executable = SCMP_A2_64(SCMP_CMP_MASKED_EQ, PROT_EXEC, 0);
    good = good && seccomp_rule_add(filter, SCMP_ACT_ALLOW, SCMP_SYS(mmap), 1, not_executable) == 0 &&
           seccomp_rule_add(filter, SCMP_ACT_ALLOW, SCMP_SYS(mprotect), 1, not_executable) == 0 &&
           seccomp_load(filter) == 0;
    seccomp_release(filter);
    return good;
}
#else
static bool filter_calls(void)
{
    return true;
}
#endif

bool decode_confine(void)
{
    /* no core file with somebody's voice in it */
    if (!limit(RLIMIT_CORE, 0) || !limit(RLIMIT_FSIZE, 0) || !limit(RLIMIT_CPU, DECODE_CPU_S_MAX))
        return false;
    if (SANITIZED)
        return true;
    return limit(RLIMIT_AS, DECODE_MEMORY_BYTES_MAX) && limit(RLIMIT_NOFILE, 3) && filter_calls();
}
