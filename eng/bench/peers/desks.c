// desks FIRST-PORT DESKS INPUTS RATE SECONDS FORM: pretends to be DESKS desks on loopback, each sending to its own port (FIRST-PORT,
// FIRST-PORT+1, ...). FORM: blob (one message a frame), single (one datagram an input, all at once), even (one datagram an input,
// evenly spaced), flood (single, as fast as can be, SECONDS is the number of datagrams).
// Levels wander a little above a quiet floor, so that no frame repeats the one before.
#define _GNU_SOURCE
#include <arpa/inet.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>

#define BATCH 64

static uint32_t chance = 1;

static float level(void)
{
    chance = chance * 1664525u + 1013904223u;
    return -60.0f + (float)(chance >> 8) / (float)(1 << 24) * 12.0f;
}

static int put_float(char* to, float value)
{
    uint32_t word;
    memcpy(&word, &value, 4);
    word = htonl(word);
    memcpy(to, &word, 4);
    return 4;
}

static int put_string(char* to, const char* text)
{
    int length = (int)strlen(text), padded = (length | 3) + 1;
    memset(to, 0, padded);
    memcpy(to, text, length);
    return padded;
}

static int single(char* to, int input)
{
    char address[32];
    snprintf(address, sizeof address, "/lv/%d", input);
    int at = put_string(to, address);
    at += put_string(to + at, ",f");
    return at + put_float(to + at, level());
}

static int blob(char* to, int inputs)
{
    int at = put_string(to, "/lv/all");
    at += put_string(to + at, ",b");
    uint32_t size = htonl(4u * (uint32_t)inputs);
    memcpy(to + at, &size, 4);
    at += 4;
    for (int i = 0; i < inputs; i++)
        at += put_float(to + at, level());
    return at;
}

static void wait_until(struct timespec* at, long step_ns)
{
    at->tv_nsec += step_ns;
    while (at->tv_nsec >= 1000000000) {
        at->tv_nsec -= 1000000000;
        at->tv_sec++;
    }
    clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, at, NULL);
}

static char room[BATCH][8192];
static struct iovec parts[BATCH];
static struct mmsghdr heads[BATCH];

static void send_all(int fd, struct sockaddr_in* to, int count)
{
    for (int i = 0; i < count; i++)
        heads[i] = (struct mmsghdr){.msg_hdr = {.msg_name = to, .msg_namelen = sizeof *to, .msg_iov = &parts[i], .msg_iovlen = 1}};
    for (int done = 0; done < count;) {
        int sent = sendmmsg(fd, heads + done, count - done, 0);
        if (sent <= 0)
            return;
        done += sent;
    }
}

int main(int count, char** arguments)
{
    if (count < 7)
        return 2;
    int port = atoi(arguments[1]), desks = atoi(arguments[2]), inputs = atoi(arguments[3]), rate = atoi(arguments[4]);
    long limit = atol(arguments[5]);
    const char* form = arguments[6];
    int fd = socket(AF_INET, SOCK_DGRAM, 0), size = 4 << 20;
    setsockopt(fd, SOL_SOCKET, SO_SNDBUF, &size, sizeof size);
    struct sockaddr_in to = {.sin_family = AF_INET, .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    long sent = 0;
    if (!strcmp(form, "flood")) {
        to.sin_port = htons(port);
        for (; sent < limit; sent += BATCH) {
            for (int i = 0; i < BATCH; i++)
                parts[i] = (struct iovec){room[i], single(room[i], i % inputs + 1)};
            send_all(fd, &to, BATCH);
        }
    } else if (!strcmp(form, "even")) {
        for (long frame = 0; frame < limit * rate; frame++)
            for (int i = 0; i < inputs; i++) {
                wait_until(&at, 1000000000L / rate / inputs);
                to.sin_port = htons(port);
                sendto(fd, room[0], single(room[0], i + 1), 0, (struct sockaddr*)&to, sizeof to);
                sent++;
            }
    } else {
        // Desks take turns inside a frame: nobody's frames come at the same instant as everybody else's.
        for (long frame = 0; frame < limit * rate; frame++)
            for (int desk = 0; desk < desks; desk++) {
                wait_until(&at, 1000000000L / rate / desks);
                to.sin_port = htons(port + desk);
                int messages = *form == 'b' ? 1 : inputs;
                for (int i = 0; i < messages; i++)
                    parts[i] = (struct iovec){room[i], *form == 'b' ? blob(room[i], inputs) : single(room[i], i + 1)};
                send_all(fd, &to, messages);
                sent += messages;
            }
    }
    printf("{\"sent\": %ld}\n", sent);
    return 0;
}
