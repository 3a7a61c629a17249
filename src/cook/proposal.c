#include "cook/proposal.h"

#include <stdlib.h>

void nw_proposal_free(NwProposal *proposal) {
    if (!proposal)
        return;
    nw_outcome_clear(&proposal->outcome);
    nw_founds_clear(&proposal->founds);
    nw_design_free(proposal->design);
    free(proposal);
}
