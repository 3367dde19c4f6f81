// Bare receivers in C: what the kernel alone costs. The drains are called from the benchmarks' process on a queue filled beforehand;
// with a main() of its own this file is the paced receiver (see build.sh).
#define _GNU_SOURCE
#include <arpa/inet.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/time.h>

#define BATCH 64
#define ROOM 2048

// Takes in all that waits, 64 a call; answers how many.
int c_drain_many(int fd)
{
    static char room[BATCH][ROOM];
    static struct sockaddr_storage from[BATCH];
    struct iovec parts[BATCH];
    struct mmsghdr heads[BATCH];
    int total = 0, got;
    do {
        for (int i = 0; i < BATCH; i++) {
            parts[i] = (struct iovec){room[i], ROOM};
            heads[i] = (struct mmsghdr){.msg_hdr = {.msg_name = &from[i], .msg_namelen = sizeof from[i], .msg_iov = &parts[i], .msg_iovlen = 1}};
        }
        got = recvmmsg(fd, heads, BATCH, MSG_DONTWAIT, NULL);
        total += got > 0 ? got : 0;
    } while (got == BATCH);
    return total;
}

#ifdef PROGRAM
// receive PORT SECONDS: a recvfrom loop; prints datagrams and microseconds of CPU per datagram.
int main(int count, char** arguments)
{
    if (count < 3)
        return 2;
    int fd = socket(AF_INET, SOCK_DGRAM, 0), size = 4 << 20;
    struct sockaddr_in here = {.sin_family = AF_INET, .sin_port = htons(atoi(arguments[1])), .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    struct timeval patience = {.tv_usec = 500000}, began, now;
    setsockopt(fd, SOL_SOCKET, SO_RCVBUF, &size, sizeof size);
    setsockopt(fd, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    if (bind(fd, (struct sockaddr*)&here, sizeof here))
        return 1;
    long total = 0;
    char room[ROOM];
    gettimeofday(&began, NULL);
    do {
        struct sockaddr_in from;
        socklen_t length = sizeof from;
        total += recvfrom(fd, room, sizeof room, 0, (struct sockaddr*)&from, &length) > 0;
        gettimeofday(&now, NULL);
    } while (now.tv_sec - began.tv_sec < atoi(arguments[2]));
    struct rusage used;
    getrusage(RUSAGE_SELF, &used);
    double cpu = used.ru_utime.tv_sec + used.ru_stime.tv_sec + (used.ru_utime.tv_usec + used.ru_stime.tv_usec) * 1e-6;
    printf("{\"datagrams\": %ld, \"cpuUs\": %.2f}\n", total, total ? cpu * 1e6 / total : 0);
    return 0;
}
#endif
