/* The disk of the fault points, put before the C library (LD_PRELOAD).
 *
 * A thread gives its orders by opening paths that are no files, below /disk-of-the-test/:
 *
 *     watch/FOLDER     from now on what is done below FOLDER is seen, and counted from 0
 *     trace/FILE       it is written down in FILE, byte for byte (record())
 *     said/WORDS       so are these words, in between
 *     fail/HOW/N       from the Nth change of the disk on: `once` gives EIO and does nothing,
 *                      `half` does half of a write and gives ENOSPC, `gone` gives EIO for ever
 *     failed           answers EEXIST where it has come to that, else ENOENT
 *     off              nothing fails from now on, nothing is seen
 *
 * Random numbers are the same after each `watch`.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

enum how { NEVER, ONCE, HALF, GONE };

static __thread char watched[PATH_MAX];
static __thread size_t watched_length;
static __thread int trace = -1;
static __thread enum how how;
static __thread long fail_at, count;
static __thread int failed;
static __thread uint64_t drawn;

/* One change: what, whether it failed, of which file, a number, and bytes that go with it. */
static void record(char what, int did_fail, uint64_t file, uint64_t number, const void *bytes, uint64_t n) {
    if (trace < 0) return;
    char head[26] = {what, (char)did_fail};
    memcpy(head + 2, &file, 8);
    memcpy(head + 10, &number, 8);
    memcpy(head + 18, &n, 8);
    struct iovec parts[2] = {{head, sizeof head}, {(void *)bytes, n}};
    if (writev(trace, parts, 2) != (ssize_t)(sizeof head + n)) abort();
}

static int order(const char *path) {
    static const char under[] = "/disk-of-the-test/";
    if (strncmp(path, under, sizeof under - 1)) return 0;
    const char *said = path + sizeof under - 1;
    errno = ENOENT;
    if (!strncmp(said, "watch/", 6)) {
        watched_length = (size_t)snprintf(watched, sizeof watched, "%s", said + 6);
        count = failed = 0;
        drawn = 1;
    } else if (!strncmp(said, "trace/", 6)) {
        if (trace >= 0) close(trace);
        trace = REAL(open)(said + 6, O_WRONLY | O_CREAT | O_TRUNC | O_APPEND | O_CLOEXEC, 0600);
        if (trace < 0) abort();
    } else if (!strncmp(said, "said/", 5)) {
        record('m', 0, 0, 0, said + 5, strlen(said + 5));
    } else if (!strncmp(said, "fail/", 5)) {
        how = said[5] == 'o' ? ONCE : said[5] == 'h' ? HALF : GONE;
        fail_at = atol(said + 10);
        count = failed = 0;
    } else if (!strcmp(said, "failed")) {
        if (failed) errno = EEXIST;
    } else if (!strcmp(said, "off")) {
        how = NEVER;
        watched_length = 0;
        if (trace >= 0) close(trace);
        trace = -1;
    }
    return 1;
}

/* Whether a path lies in the watched folder; the index of the log is shared memory, and made
 * anew at each start, so that nothing of it is written down. */
static int is_watched(const char *path) {
    return watched_length && !strncmp(path, watched, watched_length) &&
           (path[watched_length] == '/' || !path[watched_length]);
}
static int is_index(const char *path) {
    size_t n = strlen(path);
    return n > 4 && !strcmp(path + n - 4, "-shm");
}

static int of(int fd, char *path, struct stat64 *now) {
    char link[64];
    if (!watched_length || fstat64(fd, now)) return 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, PATH_MAX - 1);
    if (n <= 0) return 0;
    path[n] = 0;
    char *gone = strstr(path, " (deleted)");
    if (gone) *gone = 0;
    return is_watched(path);
}

/* Whether this change fails. */
static int fails(void) {
    long at = count++;
    if (how == NEVER || at < fail_at || (how != GONE && failed)) return 0;
    failed = 1;
    errno = how == HALF ? ENOSPC : EIO;
    return 1;
}

/* ---- open ---- */
static int opened(int fd, const char *path, int flags, int was_there) {
    struct stat64 now;
    if (fd < 0 || is_index(path) || fstat64(fd, &now)) return fd;
    int kept = errno;
    if (!was_there) record('c', 0, now.st_ino, 0, path, strlen(path));
    else if (flags & O_TRUNC) record('t', 0, now.st_ino, 0, 0, 0);
    errno = kept;
    return fd;
}
static int open_as(const char *name, const char *path, int flags, mode_t mode) {
    int (*real)(const char *, int, ...) = (int (*)(const char *, int, ...))dlsym(RTLD_NEXT, name);
    if (order(path)) return -1;
    if (!is_watched(path)) return real(path, flags, mode);
    int was_there = !access(path, F_OK);
    int changes = (!was_there && (flags & O_CREAT)) || (was_there && (flags & O_TRUNC));
    if (changes && fails()) return -1;
    return opened(real(path, flags, mode), path, flags, was_there);
}
#define MODE(flags)                                   \
    mode_t mode = 0;                                  \
    if ((flags) & (O_CREAT | __O_TMPFILE)) {          \
        va_list more;                                 \
        va_start(more, flags);                        \
        mode = va_arg(more, mode_t);                  \
        va_end(more);                                 \
    }
int open(const char *path, int flags, ...) { MODE(flags) return open_as("open", path, flags, mode); }
int open64(const char *path, int flags, ...) { MODE(flags) return open_as("open64", path, flags, mode); }

/* ---- write ---- */
static ssize_t write_at(int fd, const void *bytes, size_t n, off64_t at, int moves) {
    char path[PATH_MAX];
    struct stat64 now;
    ssize_t done;
    int seen = of(fd, path, &now) && S_ISREG(now.st_mode);
    if (seen && moves) at = lseek64(fd, 0, SEEK_CUR);
    if (seen && fails()) {
        if (how != HALF || n < 2) return -1;
        done = moves ? REAL(write)(fd, bytes, n / 2) : REAL(pwrite64)(fd, bytes, n / 2, at);
        if (done > 0 && !is_index(path)) record('w', 0, now.st_ino, (uint64_t)at, bytes, (uint64_t)done);
        errno = ENOSPC;
        return -1;
    }
    done = moves ? REAL(write)(fd, bytes, n) : REAL(pwrite64)(fd, bytes, n, at);
    if (seen && done > 0 && !is_index(path)) record('w', 0, now.st_ino, (uint64_t)at, bytes, (uint64_t)done);
    return done;
}
ssize_t write(int fd, const void *bytes, size_t n) { return write_at(fd, bytes, n, 0, 1); }
ssize_t pwrite(int fd, const void *bytes, size_t n, off_t at) { return write_at(fd, bytes, n, at, 0); }
ssize_t pwrite64(int fd, const void *bytes, size_t n, off64_t at) { return write_at(fd, bytes, n, at, 0); }

static int to_length(int fd, off64_t end) {
    char path[PATH_MAX];
    struct stat64 now;
    int seen = of(fd, path, &now);
    if (seen && fails()) return -1;
    int done = REAL(ftruncate64)(fd, end);
    if (seen && !done && !is_index(path)) record('t', 0, now.st_ino, (uint64_t)end, 0, 0);
    return done;
}
int ftruncate(int fd, off_t end) { return to_length(fd, end); }
int ftruncate64(int fd, off64_t end) { return to_length(fd, end); }

/* ---- sync ---- */
static int sync_as(const char *name, int fd) {
    int (*real)(int) = (int (*)(int))dlsym(RTLD_NEXT, name);
    char path[PATH_MAX];
    struct stat64 now;
    if (!of(fd, path, &now) || is_index(path)) return real(fd);
    char what = S_ISDIR(now.st_mode) ? 'S' : 's';
    int did_fail = fails();
    record(what, did_fail, now.st_ino, 0, path, strlen(path));
    if (did_fail) errno = how == HALF ? ENOSPC : EIO;
    /* The test's own disk need not do it. */
    return did_fail ? -1 : 0;
}
int fsync(int fd) { return sync_as("fsync", fd); }
int fdatasync(int fd) { return sync_as("fdatasync", fd); }

/* ---- names ---- */
static int name_as(char what, const char *path, int done) {
    if (!done && !is_index(path)) record(what, 0, 0, 0, path, strlen(path));
    return done;
}
int mkdir(const char *path, mode_t mode) {
    if (!is_watched(path)) return REAL(mkdir)(path, mode);
    if (access(path, F_OK) && fails()) return -1;
    return name_as('d', path, REAL(mkdir)(path, mode));
}
int unlink(const char *path) {
    if (!is_watched(path)) return REAL(unlink)(path);
    if (!access(path, F_OK) && fails()) return -1;
    return name_as('u', path, REAL(unlink)(path));
}
int rmdir(const char *path) {
    if (!is_watched(path)) return REAL(rmdir)(path);
    if (fails()) return -1;
    return name_as('u', path, REAL(rmdir)(path));
}
int rename(const char *from, const char *to) {
    if (!is_watched(from) || access(from, F_OK)) return REAL(rename)(from, to);
    if (fails()) return -1;
    int done = REAL(rename)(from, to);
    char both[2 * PATH_MAX];
    int n = snprintf(both, sizeof both, "%s\n%s", from, to);
    if (!done) record('r', 0, 0, 0, both, (uint64_t)n);
    return done;
}

/* What else could change a file is not used by the store there. */
ssize_t copy_file_range(int from, off64_t *a, int to, off64_t *b, size_t n, unsigned flags) {
    char path[PATH_MAX];
    struct stat64 now;
    if (of(to, path, &now)) abort();
    return REAL(copy_file_range)(from, a, to, b, n, flags);
}

/* splitmix64 (Steele, Lea and Flood, 2014). */
ssize_t getrandom(void *to, size_t n, unsigned int flags) {
    if (!watched_length) return REAL(getrandom)(to, n, flags);
    unsigned char *bytes = to;
    for (size_t i = 0; i < n; i++) {
        uint64_t z = (drawn += 0x9E3779B97F4A7C15u);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
        bytes[i] = (unsigned char)(z ^ (z >> 31));
    }
    return (ssize_t)n;
}
