#include "session/proposal_item.h"

#include <stdlib.h>
#include <string.h>

struct _NwProposalItem {
    GObject parent;
    NwProposalFacts facts;
    NwDesign *before, *after;
    NwFounds founds;
    NwSolid *here;
    GArray *killed; /* guint64: the keys of all that it kills */
    NwKill *kills;  /* the first of them */
    gsize kill_count;
};

G_DEFINE_FINAL_TYPE(NwProposalItem, nw_proposal_item, G_TYPE_OBJECT)

static void add_part(NwSolid *solid, NwPart part) {
    nw_solid_add(solid, part.cell, 1 << part.bit);
}

/* ---- cooks that are gone ----------------------------------------------------------------- */

static NwFoundAssembly *finding_of(const NwBaseline *baseline, gsize known) {
    NwAssembly assembly = {.key = baseline->known[known].key, .count = baseline->bodies};
    memcpy(assembly.placements, baseline->known[known].placements,
           (size_t)baseline->bodies * sizeof *assembly.placements);
    return nw_found_assembly_new(&assembly);
}

static void add_body(NwSolid *solid, const NwDesign *design, const NwPlacement *placement) {
    NwSolid *moved;
    if (nw_solid_moved(design->pieces[placement->piece].solid, placement->motion, &moved) != NW_OK)
        return;
    for (size_t i = 0; i < moved->count; i++)
        nw_solid_add(solid, nw_cell_at(&moved->cells[i]), moved->cells[i].mask);
    nw_solid_free(moved);
}

/* What a changed part is in the cook: where it would come to lie, or was; all of a piece that
 * stands where only whole cells can. */
static void add_carried(NwSolid *solid, const NwDesign *design, const NwFoundAssembly *cook,
                        const NwChange *change) {
    for (int b = 0; b < cook->placement_count; b++) {
        const NwPlacement *placement = &cook->placements[b];
        gboolean changes = placement->piece == change->to || placement->piece == change->from;
        if (nw_vec_parity(placement->motion.shift)) {
            if (changes)
                add_body(solid, design, placement);
            continue;
        }
        if (placement->piece == change->to)
            add_part(solid, nw_part_moved(change->won, placement->motion));
        else if (placement->piece == change->from && change->to < 0)
            add_part(solid, nw_part_moved(change->lost, placement->motion));
    }
}

static NwKill kill_of(const NwBaseline *baseline, const NwProposal *proposal, gsize known) {
    NwKill kill = {.key = baseline->known[known].key,
                   .fate = proposal->outcome.fates[known],
                   .cook = finding_of(baseline, known),
                   .there = nw_solid_new()};
    kill.conflict.kind = NW_CONFLICT_NONE;
    if (kill.fate == NW_FATE_NO_FIT)
        kill.conflict =
            nw_conflict_find(baseline, proposal->design, proposal->changes, proposal->count, known);
    if (kill.conflict.kind != NW_CONFLICT_NONE && kill.conflict.kind != NW_CONFLICT_ODD)
        add_part(kill.there, kill.conflict.part);
    else
        for (int i = 0; i < proposal->count; i++)
            add_carried(kill.there, baseline->design, kill.cook, &proposal->changes[i]);
    return kill;
}

static gboolean is_gone(NwFate fate) {
    return fate == NW_FATE_NO_FIT || fate == NW_FATE_MERGED || fate == NW_FATE_BLOCKED;
}

static void take_kills(NwProposalItem *self, const NwBaseline *baseline, const NwProposal *proposal,
                       guint64 target) {
    self->kills = g_new0(NwKill, MIN(baseline->cooks, NW_KILLS_MAX));
    for (gsize i = 0; i < baseline->known_count; i++) {
        guint64 key = baseline->known[i].key;
        if (!nw_baseline_is_cook(baseline, i) || !is_gone(proposal->outcome.fates[i]))
            continue;
        g_array_append_val(self->killed, key);
        if (key == target)
            self->kills[self->kill_count++] = kill_of(baseline, proposal, i);
    }
    for (gsize i = 0; i < baseline->known_count && self->kill_count < NW_KILLS_MAX; i++)
        if (baseline->known[i].key != target && nw_baseline_is_cook(baseline, i) &&
            is_gone(proposal->outcome.fates[i]))
            self->kills[self->kill_count++] = kill_of(baseline, proposal, i);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_proposal_item_finalize(GObject *object) {
    NwProposalItem *self = NW_PROPOSAL_ITEM(object);
    for (gsize i = 0; i < self->kill_count; i++) {
        nw_found_assembly_free(self->kills[i].cook);
        nw_solid_free(self->kills[i].there);
    }
    g_free(self->kills);
    g_array_unref(self->killed);
    nw_design_free(self->before);
    nw_design_free(self->after);
    nw_founds_clear(&self->founds);
    nw_solid_free(self->here);
    G_OBJECT_CLASS(nw_proposal_item_parent_class)->finalize(object);
}

static void nw_proposal_item_class_init(NwProposalItemClass *class) {
    G_OBJECT_CLASS(class)->finalize = nw_proposal_item_finalize;
}

static void nw_proposal_item_init(NwProposalItem *self) {
    self->here = nw_solid_new();
    self->killed = g_array_new(FALSE, FALSE, sizeof(guint64));
}

NwProposalItem *nw_proposal_item_new(NwAdvisor *advisor, const NwProposal *proposal,
                                     guint64 target) {
    NwProposalItem *self = g_object_new(NW_TYPE_PROPOSAL_ITEM, NULL);
    const NwBaseline *baseline = nw_advisor_ground(advisor);
    const NwOutcome *outcome = &proposal->outcome;
    NwProposalFacts *facts = &self->facts;
    *facts = (NwProposalFacts){.count = proposal->count,
                               .proved = proposal->proved,
                               .cooks_left = outcome->cooks,
                               .undecided = outcome->undecided,
                               .new_assemblies = outcome->new_assemblies,
                               .hangs = proposal->rank.hangs,
                               .tips = proposal->rank.tips,
                               .searched = outcome->searched,
                               .level = outcome->level,
                               .total = outcome->total};
    memcpy(facts->changes, proposal->changes, sizeof facts->changes);
    if (nw_advisor_before(advisor, &facts->level_before, &facts->total_before) != NW_OK)
        facts->level_before = facts->total_before = 0;
    self->before = nw_design_copy(baseline->design);
    self->after = nw_design_copy(proposal->design);
    self->founds = nw_founds_copy(&proposal->founds, (size_t)baseline->bodies);
    for (int i = 0; i < proposal->count; i++)
        add_part(self->here, proposal->changes[i].part);
    take_kills(self, baseline, proposal, target);
    return self;
}

const NwProposalFacts *nw_proposal_item_get_facts(NwProposalItem *self) {
    return &self->facts;
}

const NwDesign *nw_proposal_item_get_before(NwProposalItem *self) {
    return self->before;
}

const NwDesign *nw_proposal_item_get_after(NwProposalItem *self) {
    return self->after;
}

const NwFounds *nw_proposal_item_get_founds(NwProposalItem *self) {
    return &self->founds;
}

const NwSolid *nw_proposal_item_get_here(NwProposalItem *self) {
    return self->here;
}

gsize nw_proposal_item_get_kill_count(NwProposalItem *self) {
    return self->killed->len;
}

const NwKill *nw_proposal_item_get_kill(NwProposalItem *self, gsize index) {
    return index < self->kill_count ? &self->kills[index] : NULL;
}

gboolean nw_advice_kills(NwProposalItem *self, guint64 key) {
    for (guint i = 0; i < self->killed->len; i++)
        if (g_array_index(self->killed, guint64, i) == key)
            return TRUE;
    return FALSE;
}
