/* libFuzzer entry: whatever the reader accepts must come back the same from the writer. Reading
 * anything must end in a design or in an error with a message, never in both or neither. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "design/faults.h"
#include "format/design_json.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool condition) {
    if (!condition)
        abort();
}

static void check_faults(const NwDesign *design) {
    NwFault *faults;
    size_t count = nw_design_faults(design, &faults);
    for (size_t i = 0; i < count; i++) {
        char *text = nw_fault_text(design, &faults[i]);
        require(text[0] != '\0');
        free(text);
    }
    free(faults);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    GError *error = NULL;
    const char *text = size ? (const char *)data : "";
    NwDesign *design = nw_design_from_json(text, (gssize)size, "fuzz", &error);
    require(!design == !!error);
    if (!design) {
        require(error->domain == NW_JSON_ERROR && g_str_has_prefix(error->message, "fuzz: "));
        g_error_free(error);
        return 0;
    }
    check_faults(design);
    char *once = nw_design_to_json(design);
    NwDesign *again = nw_design_from_json(once, -1, "again", &error);
    require(again && !error);
    char *twice = nw_design_to_json(again);
    require(strcmp(once, twice) == 0);
    require(nw_solid_equal(design->envelope, again->envelope));
    require(nw_solid_equal(design->may_be_empty, again->may_be_empty));
    require(design->piece_count == again->piece_count);
    for (size_t i = 0; i < design->piece_count; i++)
        require(nw_solid_equal(design->pieces[i].solid, again->pieces[i].solid));
    g_free(twice);
    g_free(once);
    nw_design_free(again);
    nw_design_free(design);
    return 0;
}
