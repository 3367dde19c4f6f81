// latency UDP-PORT HTTP-PORT INPUTS RATE SECONDS EVERY: a desk and an engineer's page in one. Sends INPUTS single messages RATE times a
// second to UDP-PORT; every EVERY-th frame one input in turn jumps out of its rest for one frame. Follows http://127.0.0.1:HTTP-PORT/api/events
// and prints how long it took, in microseconds, from handing the jump's datagram to the kernel until the first alarm event of that input.
#define _GNU_SOURCE
#include <arpa/inet.h>
#include <netinet/tcp.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

#define MOST 100000
static _Atomic int64_t asked[1025];
static double took[MOST];
static atomic_int heard;
static int stream;

static int64_t now_ns(void)
{
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return at.tv_sec * 1000000000LL + at.tv_nsec;
}

static void* follow(void* unused)
{
    static char room[1 << 20];
    size_t held = 0;
    ssize_t got;
    while ((got = read(stream, room + held, sizeof room - held - 1)) > 0) {
        int64_t at = now_ns();
        held += (size_t)got;
        room[held] = 0;
        char *line = room, *end;
        int alarm = 0;
        for (; (end = strchr(line, '\n')); line = end + 1) {
            *end = 0;
            if (!strncmp(line, "event:", 6))
                alarm = strstr(line, "alarm") != NULL;
            char* input = alarm && !strncmp(line, "data:", 5) ? strstr(line, "\"input\":") : NULL;
            int number = input ? atoi(input + 8) : 0;
            int64_t sent = number > 0 && number <= 1024 ? atomic_exchange(&asked[number], 0) : 0;
            if (sent && heard < MOST)
                took[heard++] = (at - sent) / 1e3;
        }
        // An "event:" line whose data has not come yet must be read again with it.
        if (alarm && line > room) {
            held -= (size_t)(line - room);
            memmove(room + 13, line, held);
            memcpy(room, "event: alarm\n", 13);
            held += 13;
        } else {
            held -= (size_t)(line - room);
            memmove(room, line, held);
        }
        if (held > sizeof room / 2)
            held = 0;
    }
    return unused;
}

static int by_size(const void* a, const void* b)
{
    double difference = *(const double*)a - *(const double*)b;
    return difference < 0 ? -1 : difference > 0;
}

int main(int count, char** arguments)
{
    if (count < 7)
        return 2;
    int inputs = atoi(arguments[3]), rate = atoi(arguments[4]), seconds = atoi(arguments[5]), every = atoi(arguments[6]), yes = 1;
    struct sockaddr_in to = {.sin_family = AF_INET, .sin_port = htons(atoi(arguments[2])), .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    stream = socket(AF_INET, SOCK_STREAM, 0);
    setsockopt(stream, IPPROTO_TCP, TCP_NODELAY, &yes, sizeof yes);
    if (connect(stream, (struct sockaddr*)&to, sizeof to))
        return 1;
    char request[200];
    int length = snprintf(request, sizeof request, "GET /api/events HTTP/1.1\r\nHost: 127.0.0.1:%s\r\nAccept: text/event-stream\r\n\r\n", arguments[2]);
    if (write(stream, request, length) < 0)
        return 1;
    pthread_t follower;
    pthread_create(&follower, NULL, follow, NULL);
    int udp = socket(AF_INET, SOCK_DGRAM, 0);
    to.sin_port = htons(atoi(arguments[1]));
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    uint32_t chance = 1;
    int jumps = 0;
    long settle = 10L * rate;
    for (long frame = 0; frame < (long)seconds * rate + settle; frame++) {
        at.tv_nsec += 1000000000L / rate;
        at.tv_sec += at.tv_nsec / 1000000000;
        at.tv_nsec %= 1000000000;
        clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &at, NULL);
        int jumping = frame >= settle && frame % every == 0 ? jumps++ % inputs + 1 : 0;
        for (int input = 1; input <= inputs; input++) {
            char packet[64] = {0};
            chance = chance * 1664525u + 1013904223u;
            float level = input == jumping ? -3.0f : -62.0f + (chance >> 8) / (float)(1 << 24);
            int size = (snprintf(packet, 32, "/lv/%d", input) | 3) + 1;
            memcpy(packet + size, ",f\0\0", 4);
            uint32_t word;
            memcpy(&word, &level, 4);
            word = htonl(word);
            memcpy(packet + size + 4, &word, 4);
            if (input == jumping)
                atomic_store(&asked[input], now_ns());
            sendto(udp, packet, size + 8, 0, (struct sockaddr*)&to, sizeof to);
        }
    }
    sleep(1);
    shutdown(stream, SHUT_RDWR);
    pthread_join(follower, NULL);
    int n = heard;
    qsort(took, n, sizeof *took, by_size);
#define AT(share) (n ? took[(int)((n - 1) * (share))] : -1)
    printf("{\"jumps\": %d, \"heard\": %d, \"p50\": %.0f, \"p99\": %.0f, \"p999\": %.0f, \"max\": %.0f}\n", jumps, n, AT(.5), AT(.99), AT(.999), AT(1));
    return 0;
}
