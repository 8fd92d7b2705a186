/* protocol_keys.h - the keys a request may have beside "v" and "verb"; only protocol.c includes it. */
#ifndef REMOTE_PROTOCOL_KEYS_H
#define REMOTE_PROTOCOL_KEYS_H

#include "remote/protocol.h"

enum key {
    KEY_NONE,
    KEY_REQUEST,
    KEY_EVERY_MS,
    KEY_LIMIT,
    KEY_BATCH,
    KEY_FORM,
    KEY_PROMPT,
    KEY_ANSWER,
    KEY_NUMBER,
    KEY_POINT,
    KEY_EXPANDED_U,
    KEY_COUNT
};

const char *protocol_key_name(enum key key);

/* Check one value and put it where it belongs in *request. False: *refusal is filled. */
bool protocol_key_read(enum key key, json_t *value, struct request *request,
                       struct protocol_refusal *refusal);

/* Fill *refusal; always false, so that a caller can write `return protocol_refuse(...)`. */
bool protocol_refuse(struct protocol_refusal *refusal, const char *code, const char *where, const char *text);

#endif
