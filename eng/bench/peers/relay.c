// relay UDP-PORT TCP-PORT: the floor of "datagram to event stream" in C. One client; a meter message of one float at or above -20 dBFS
// leaves at once as one server-sent event. No checks, no memory of anything: nothing can be quicker on this machine.
#include <arpa/inet.h>
#include <netinet/tcp.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

int main(int count, char** arguments)
{
    if (count < 3)
        return 2;
    int udp = socket(AF_INET, SOCK_DGRAM, 0), door = socket(AF_INET, SOCK_STREAM, 0), yes = 1, size = 4 << 20;
    struct sockaddr_in here = {.sin_family = AF_INET, .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    setsockopt(door, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    setsockopt(udp, SOL_SOCKET, SO_RCVBUF, &size, sizeof size);
    here.sin_port = htons(atoi(arguments[1]));
    if (bind(udp, (struct sockaddr*)&here, sizeof here))
        return 1;
    here.sin_port = htons(atoi(arguments[2]));
    if (bind(door, (struct sockaddr*)&here, sizeof here) || listen(door, 1))
        return 1;
    int client = accept(door, NULL, NULL);
    setsockopt(client, IPPROTO_TCP, TCP_NODELAY, &yes, sizeof yes);
    char request[4096];
    if (read(client, request, sizeof request) <= 0)
        return 1;
    static const char head[] = "HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\n\r\n";
    if (write(client, head, sizeof head - 1) < 0)
        return 1;
    char room[2048], event[256];
    for (;;) {
        ssize_t length = recv(udp, room, sizeof room, 0);
        if (length < 12)
            continue;
        uint32_t word;
        float value;
        memcpy(&word, room + length - 4, 4);
        word = ntohl(word);
        memcpy(&value, &word, 4);
        if (value < -20)
            continue;
        int size = snprintf(event, sizeof event, "event: alarm\ndata: {\"desk\":\"relay\",\"input\":%d,\"kind\":\"pop\"}\n\n", atoi(room + 4));
        if (write(client, event, size) < 0)
            return 0;
    }
}
