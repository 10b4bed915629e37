/* The machine of the simulator, put before the C library (LD_PRELOAD).
 *
 * - Below a folder that has a file FOLDER.full beside it no file can grow: every second
 *   write that would is cut in its middle, as a disk does that has a little room left.
 * - Random numbers follow from the name of the thread, so that a schedule can be run again.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <limits.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/stat.h>
#include <unistd.h>

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

static __thread int torn;
static __thread uint64_t state;

/* Whether a folder above the open file is marked as full, and the file would grow. */
static int finds_no_room(int fd, off64_t end) {
    char link[64], path[PATH_MAX], mark[PATH_MAX];
    struct stat64 now;
    if (fstat64(fd, &now) || !S_ISREG(now.st_mode) || end <= now.st_size) return 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, sizeof path - 8);
    if (n <= 0) return 0;
    path[n] = 0;
    for (char *slash; (slash = strrchr(path, '/')) && slash != path;) {
        *slash = 0;
        snprintf(mark, sizeof mark, "%s.full", path);
        if (!access(mark, F_OK)) return 1;
    }
    return 0;
}

ssize_t write(int fd, const void *bytes, size_t n) {
    if (finds_no_room(fd, lseek64(fd, 0, SEEK_CUR) + (off64_t)n)) {
        if (n > 1 && (torn = !torn)) return REAL(write)(fd, bytes, n / 2);
        errno = ENOSPC;
        return -1;
    }
    return REAL(write)(fd, bytes, n);
}

static ssize_t at_place(int fd, const void *bytes, size_t n, off64_t at) {
    if (finds_no_room(fd, at + (off64_t)n)) {
        if (n > 1 && (torn = !torn)) return REAL(pwrite64)(fd, bytes, n / 2, at);
        errno = ENOSPC;
        return -1;
    }
    return REAL(pwrite64)(fd, bytes, n, at);
}
ssize_t pwrite(int fd, const void *bytes, size_t n, off_t at) { return at_place(fd, bytes, n, at); }
ssize_t pwrite64(int fd, const void *bytes, size_t n, off64_t at) { return at_place(fd, bytes, n, at); }

static int to_length(int fd, off64_t end) {
    if (finds_no_room(fd, end)) {
        errno = ENOSPC;
        return -1;
    }
    return REAL(ftruncate64)(fd, end);
}
int ftruncate(int fd, off_t end) { return to_length(fd, end); }
int ftruncate64(int fd, off64_t end) { return to_length(fd, end); }

/* splitmix64 (Steele, Lea and Flood, 2014), begun from the thread's name. */
static uint64_t next(void) {
    if (!state) {
        char name[17] = {0};
        prctl(PR_GET_NAME, name);
        state = 1;
        for (char *c = name; *c; c++) state = state * 131 + (unsigned char)*c;
    }
    uint64_t z = (state += 0x9E3779B97F4A7C15u);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return z ^ (z >> 31);
}
ssize_t getrandom(void *to, size_t n, unsigned int flags) {
    (void)flags;
    unsigned char *bytes = to;
    for (size_t i = 0; i < n; i++) bytes[i] = (unsigned char)next();
    return (ssize_t)n;
}
