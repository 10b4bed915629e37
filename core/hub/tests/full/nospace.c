/* A disk without room, for the tests: below $FULL_DIR no file can grow. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static int grows(int fd, off64_t end) {
    const char *dir = getenv("FULL_DIR");
    char link[64], path[PATH_MAX];
    struct stat64 now;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, sizeof path - 1);
    if (!dir || n <= 0) return 0;
    path[n] = 0;
    if (strncmp(path, dir, strlen(dir))) return 0;
    return fstat64(fd, &now) == 0 && end > now.st_size;
}

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))
#define FULL(fd, end) do { if (grows(fd, end)) { errno = ENOSPC; return -1; } } while (0)

ssize_t write(int fd, const void *bytes, size_t n) {
    FULL(fd, lseek64(fd, 0, SEEK_CUR) + (off64_t)n);
    return REAL(write)(fd, bytes, n);
}
ssize_t pwrite(int fd, const void *bytes, size_t n, off_t at) {
    FULL(fd, at + (off64_t)n);
    return REAL(pwrite)(fd, bytes, n, at);
}
ssize_t pwrite64(int fd, const void *bytes, size_t n, off64_t at) {
    FULL(fd, at + (off64_t)n);
    return REAL(pwrite64)(fd, bytes, n, at);
}
int ftruncate(int fd, off_t end) {
    FULL(fd, end);
    return REAL(ftruncate)(fd, end);
}
int ftruncate64(int fd, off64_t end) {
    FULL(fd, end);
    return REAL(ftruncate64)(fd, end);
}
