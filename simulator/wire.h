/* wire.h - the simulated devices on Modbus TCP, on loopback; one port, several units.
 *
 * Does:      accept several masters, answer each request from the addressed unit's registers,
 *            and misbehave as the unit's fault says. A unit that is not there does not answer.
 * Does not:  block: a request is only looked at when all of it has arrived; a late answer waits
 *            in its connection.
 * Thread:    one, together with the clock and acts sockets. Real time is the caller's.
 */
#ifndef SIMULATOR_WIRE_H
#define SIMULATOR_WIRE_H

#include "base/status.h"
#include "simulator/world.h"

#include <poll.h>
#include <stdint.h>

#define WIRE_PEERS_MAX 16
#define WIRE_FRAME_MAX 260

struct wire_answerer; /* wire_answer.h */

struct wire_peer {
    int fd;         /* -1: free */
    int64_t due_us; /* real time at which the waiting request is answered; 0: none waits */
    int length;
    uint8_t frame[WIRE_FRAME_MAX];
};

struct wire {
    struct wire_answerer *answerer;
    int fd;
    int port;
    struct wire_peer peers[WIRE_PEERS_MAX];
};

/* Listen on 127.0.0.1; port 0 takes a free one. After a failure nothing is open. */
enum status wire_open(struct wire *wire, int port, struct fault *f) MUST_USE;
void wire_close(struct wire *wire); /* harmless when not open */

/* Append what to poll; at most 1 + WIRE_PEERS_MAX. */
int wire_polls(const struct wire *wire, struct pollfd *polls);
void wire_serve(struct wire *wire, struct world *world, const struct pollfd *polls, int count,
                int64_t now_us);

/* Answer what has waited long enough; real time of the next such answer, or INT64_MAX. */
int64_t wire_serve_late(struct wire *wire, struct world *world, int64_t now_us);

#endif
