#include "simulator/wire.h"

#include "simulator/wire_answer.h"

#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#define HEADER_LENGTH 6 /* transaction, protocol, length */
#define FRAME_SHORTEST 12
#define AT_UNIT 6
#define AT_FUNCTION 7
#define AT_BYTES 12
#define WRITE_MANY_COILS 15
#define WRITE_MANY_WORDS 16

static int listen_on_loopback(int port)
{
    struct sockaddr_in address = {.sin_family = AF_INET, .sin_port = htons((uint16_t)port)};
    int one = 1, fd = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);

    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (fd < 0)
        return -1;
    if (setsockopt(fd, SOL_SOCKET, SO_REUSEADDR, &one, sizeof one) == 0 &&
        bind(fd, (const struct sockaddr *)&address, sizeof address) == 0 && listen(fd, WIRE_PEERS_MAX) == 0)
        return fd;
    (void)close(fd);
    return -1;
}

static int port_of(int fd)
{
    struct sockaddr_in address = {0};
    socklen_t size = sizeof address;

    return getsockname(fd, (struct sockaddr *)&address, &size) == 0 ? ntohs(address.sin_port) : 0;
}

enum status wire_open(struct wire *wire, int port, struct fault *f)
{
    *wire = (struct wire){.fd = -1};
    for (int i = 0; i < WIRE_PEERS_MAX; i++)
        wire->peers[i].fd = -1;
    errno = 0;
    wire->fd = listen_on_loopback(port);
    if (wire->fd < 0)
        return fault_set(f, errno == EADDRINUSE ? ST_BUSY : ST_SYSTEM, "--port",
                         "cannot listen on 127.0.0.1 port %d: %s; choose another port, or 0 for a free one",
                         port, strerror(errno));
    wire->answerer = wire_answerer_open();
    if (wire->answerer == NULL) {
        wire_close(wire);
        return fault_set(f, ST_SYSTEM, "--port", "no memory left for the Modbus server");
    }
    wire->port = port_of(wire->fd);
    return ST_OK;
}

static void peer_close(struct wire_peer *peer)
{
    if (peer->fd >= 0)
        (void)close(peer->fd);
    peer->fd = -1;
    peer->due_us = 0;
}

void wire_close(struct wire *wire)
{
    if (wire->fd < 0)
        return;
    for (int i = 0; i < WIRE_PEERS_MAX; i++)
        peer_close(&wire->peers[i]);
    (void)close(wire->fd);
    wire->fd = -1;
    wire_answerer_close(wire->answerer);
    wire->answerer = NULL;
}

/* A master whose answer is still to come is not listened to: its next request waits its turn. */
int wire_polls(const struct wire *wire, struct pollfd *polls)
{
    int count = 0;

    if (wire->fd < 0)
        return 0;
    polls[count++] = (struct pollfd){.fd = wire->fd, .events = POLLIN};
    for (int i = 0; i < WIRE_PEERS_MAX; i++)
        if (wire->peers[i].fd >= 0 && wire->peers[i].due_us == 0)
            polls[count++] = (struct pollfd){.fd = wire->peers[i].fd, .events = POLLIN};
    return count;
}

static void peer_accept(struct wire *wire)
{
    int one = 1, fd = accept4(wire->fd, NULL, NULL, SOCK_CLOEXEC | SOCK_NONBLOCK);

    if (fd < 0)
        return;
    (void)setsockopt(fd, IPPROTO_TCP, TCP_NODELAY, &one, sizeof one); /* only slower without */
    for (int i = 0; i < WIRE_PEERS_MAX; i++)
        if (wire->peers[i].fd < 0) {
            wire->peers[i] = (struct wire_peer){.fd = fd};
            return;
        }
    (void)close(fd);
}

/* Length of the frame that starts here; 0: more is to come; -1: this is not Modbus. */
static int frame_length(const uint8_t *bytes, int got)
{
    int length;

    if (got < HEADER_LENGTH)
        return 0;
    length = HEADER_LENGTH + (bytes[4] << 8 | bytes[5]);
    if (bytes[2] != 0 || bytes[3] != 0 || length < HEADER_LENGTH + 2 || length > WIRE_FRAME_MAX)
        return -1;
    return got < length ? 0 : length;
}

/* The parts every known request has are there. */
static bool frame_is_whole(const uint8_t *frame, int length)
{
    int function = frame[AT_FUNCTION];

    if (length < FRAME_SHORTEST)
        return false;
    if (function == WRITE_MANY_COILS || function == WRITE_MANY_WORDS)
        return length > AT_BYTES && length == AT_BYTES + 1 + frame[AT_BYTES];
    return function > WRITE_MANY_WORDS || length == FRAME_SHORTEST;
}

static bool frame_take(struct wire_peer *peer, int length)
{
    peer->length = length;
    return recv(peer->fd, peer->frame, (size_t)length, 0) == length && frame_is_whole(peer->frame, length);
}

static void peer_serve(struct wire *wire, struct wire_peer *peer, struct world *world, int64_t now_us)
{
    uint8_t seen[WIRE_FRAME_MAX];
    ssize_t got = recv(peer->fd, seen, sizeof seen, MSG_PEEK);
    int length;
    const struct unit_fault *fault;

    if (got < 0 && (errno == EAGAIN || errno == EINTR))
        return;
    length = got > 0 ? frame_length(seen, (int)got) : -1;
    if (length == 0)
        return;
    if (length < 0 || !frame_take(peer, length)) {
        peer_close(peer);
        return;
    }
    fault = &world->unit_faults[peer->frame[AT_UNIT] <= DEVICES_UNITS ? peer->frame[AT_UNIT] : 0];
    if (fault->kind == UNIT_SLOW)
        peer->due_us = now_us + (int64_t)fault->delay_ms * 1000;
    else if (!wire_answer(wire->answerer, peer->fd, world, peer->frame, peer->length))
        peer_close(peer);
}

void wire_serve(struct wire *wire, struct world *world, const struct pollfd *polls, int count, int64_t now_us)
{
    for (int i = 0; i < count; i++) {
        if (polls[i].revents == 0)
            continue;
        if (polls[i].fd == wire->fd) {
            peer_accept(wire);
            continue;
        }
        for (int p = 0; p < WIRE_PEERS_MAX; p++)
            if (wire->peers[p].fd == polls[i].fd) {
                peer_serve(wire, &wire->peers[p], world, now_us);
                break;
            }
    }
}

int64_t wire_serve_late(struct wire *wire, struct world *world, int64_t now_us)
{
    int64_t next_us = INT64_MAX;

    for (int i = 0; i < WIRE_PEERS_MAX; i++) {
        struct wire_peer *peer = &wire->peers[i];

        if (peer->fd < 0 || peer->due_us == 0)
            continue;
        if (peer->due_us > now_us) {
            next_us = peer->due_us < next_us ? peer->due_us : next_us;
            continue;
        }
        peer->due_us = 0;
        if (!wire_answer(wire->answerer, peer->fd, world, peer->frame, peer->length))
            peer_close(peer);
    }
    return next_us;
}
