/* libFuzzer entry: an advisor goes on from any bytes.
 *
 * The check sum is put right, so that what stands before it is looked at. The bytes are refused, or
 * the advisor works on with them and can be saved again; what it says may then be wrong, but
 * nothing breaks. The seeds in corpus-advice/ are states of the design below, without their check
 * sums. */
#include <glib.h>
#include <stdlib.h>
#include <string.h>

#include "base/bytes.h"
#include "cook/advisor.h"
#include "format/design_json.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Four cells, a cook, and enough changes for each stage to have something to do. */
static const char drawn[] =
    "{\"format\": \"notchwright design\", \"version\": 1, \"name\": \"fuzz\","
    " \"envelope\": {\"cells\": [[-1,3,0,31], [-1,3,1,31], [-1,3,2,31], [0,3,0,31]]},"
    " \"pieces\": [{\"name\": \"A\", \"cells\": [[1,2,-3,31]]},"
    "  {\"name\": \"B\", \"cells\": [[5,3,-6,31]]},"
    "  {\"name\": \"C\", \"cells\": [[2,4,0,31], [2,4,1,31]]}],"
    " \"intended\": [{\"piece\": 0, \"turn\": \"-z+y+x\", \"shift\": [-3,1,0]},"
    "  {\"piece\": 1, \"turn\": \"-y-z+x\", \"shift\": [3,-2,-3]},"
    "  {\"piece\": 2, \"turn\": \"-z+y+x\", \"shift\": [1,-1,-2]}],"
    " \"mirrors\": \"together\"}";

static void require(bool condition) {
    if (!condition)
        abort();
}

static void work_on(NwAdvisor *advisor) {
    enum { STEPS = 20, EFFORT = 100 };
    NwStatus status = NW_STOPPED;
    for (int i = 0; i < STEPS && (status == NW_STOPPED || status == NW_OK); i++) {
        const NwProposal *proposal;
        status = nw_advisor_step(advisor, EFFORT, &proposal);
        require((status == NW_OK) == (proposal != NULL));
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static NwDesign *design;
    if (!design)
        design = nw_design_from_json(drawn, -1, "fuzz", NULL);
    require(design != NULL);
    NwAdvisor *advisor;
    require(nw_advisor_new(design, (NwAdvisorOptions){.singles = true}, &advisor) == NW_OK);
    NwWriter writer = {0};
    for (size_t i = 0; i < size; i++)
        nw_write_byte(&writer, data[i]);
    nw_write_sum(&writer);
    if (nw_advisor_restore(advisor, writer.bytes, writer.size) == NW_OK)
        work_on(advisor);
    uint8_t *bytes;
    size_t saved;
    nw_advisor_save(advisor, &bytes, &saved);
    free(bytes);
    free(writer.bytes);
    nw_advisor_free(advisor);
    return 0;
}
