#include "remote/protocol.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

json_t *protocol_ok(void)
{
    return json_pack("{s:i,s:b}", "v", PROTOCOL_VERSION, "ok", 1);
}

json_t *protocol_text(const char *sentence)
{
    char clean[512] = "";
    size_t length = strnlen(sentence, sizeof clean - 1);
    json_t *text;

    for (size_t i = 0; i < length; i++)
        clean[i] = (char)((unsigned char)sentence[i] < 0x20 || sentence[i] == 0x7f ? '?' : sentence[i]);
    text = json_stringn(clean, length);
    if (text != NULL)
        return text;
    for (size_t i = 0; i < length; i++)
        if ((unsigned char)clean[i] >= 0x80)
            clean[i] = '?';
    return json_stringn(clean, length);
}

json_t *protocol_error(const char *code, const char *sentence)
{
    json_t *reply = json_pack("{s:i,s:b,s:{s:s,s:o}}", "v", PROTOCOL_VERSION, "ok", 0, "error", "code", code,
                              "sentence", protocol_text(sentence));

    if (reply != NULL && strcmp(code, "version") == 0 &&
        json_object_set_new(reply, "versions", json_pack("[i]", PROTOCOL_VERSION)) != 0) {
        json_decref(reply);
        return NULL;
    }
    return reply;
}

json_t *protocol_number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

char *protocol_line(json_t *reply, size_t *length)
{
    char *text = reply == NULL ? NULL : json_dumps(reply, JSON_COMPACT | JSON_REAL_PRECISION(12));
    size_t used = text == NULL ? 0 : strlen(text);
    char *line = text == NULL ? NULL : realloc(text, used + 2);

    json_decref(reply);
    if (line == NULL) {
        free(text);
        return NULL;
    }
    line[used] = '\n';
    line[used + 1] = '\0';
    *length = used + 1;
    return line;
}
