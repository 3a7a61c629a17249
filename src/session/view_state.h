/* What the viewport shows, and from which step of which assembly: shared by the viewport, the
 * strip of slides and the lists.
 *
 * The view state either shows the sketch (the pieces where the maker draws them) or one assembly of
 * the search, at a position along its way out. Position 0 is the assembly, position k the moment
 * after slide k, and fractions are on the way.
 *
 * Whoever shows one of its properties listens to notify::NAME of that one. What follows from a
 * change is set before anybody is told of it, so it does not matter who is told first.
 *
 *   item, beside          the assemblies shown; "item" too when the one shown has learnt its way
 * out proposal              the proposal shown, and its kill stops                 the parts that
 * stop a piece position              along the way out look, explode, one-colour, parallel, tips,
 * cut how all that is drawn obstacles             what stands below it board-axis            the
 * layers of the board hover                 the part under the pointer
 *
 * Thread: the main one. */
#ifndef NW_SESSION_VIEW_STATE_H
#define NW_SESSION_VIEW_STATE_H

#include "session/document.h"
#include "session/proposal_item.h"
#include "session/search_session.h"
#include "slide/obstacles.h"
#include "view/scene.h"

G_BEGIN_DECLS

#define NW_TYPE_VIEW_STATE (nw_view_state_get_type())
G_DECLARE_FINAL_TYPE(NwViewState, nw_view_state, NW, VIEW_STATE, GObject)

#define NW_TYPE_LOOK (nw_look_get_type())
GType nw_look_get_type(void); /* of NwLook; its nicks are those of the setting */

NwViewState *nw_view_state_new(NwDocument *document, NwSearchSession *session);
NwDocument *nw_view_state_get_document(NwViewState *self);
NwSearchSession *nw_view_state_get_search_session(NwViewState *self);

/* The assembly shown, or NULL for the sketch; borrowed. Setting one goes to position 0. */
NwAssemblyItem *nw_view_state_get_item(NwViewState *self);
void nw_view_state_set_item(NwViewState *self, NwAssemblyItem *item);

/* The design that the assembly shown is of; borrowed, NULL if there is none. It is that of the
 * search but for a lone assembly, which is in no list: that brings a copy of its own design along.
 */
const NwDesign *nw_view_state_get_item_design(NwViewState *self);
void nw_view_state_set_lone(NwViewState *self, NwAssemblyItem *item, const NwDesign *design);
gboolean nw_view_state_is_lone(NwViewState *self);

/* A second assembly laid beside the first, or NULL. */
NwAssemblyItem *nw_view_state_get_beside(NwViewState *self);
void nw_view_state_set_beside(NwViewState *self, NwAssemblyItem *item);

/* A proposal that blocks a cook, shown in the sketch: its parts are lit there, and beside it stands
 * the cook of its kill number `kill` with what collides there lit. NULL takes it away; so does any
 * change of the design, and choosing an assembly. */
NwProposalItem *nw_view_state_get_proposal(NwViewState *self, gsize *kill);
void nw_view_state_set_proposal(NwViewState *self, NwProposalItem *advice, gsize kill);

/* The parts of the assembly shown that stop one of its pieces, to be lit, by body; borrowed. Going
 * on along the way out takes them away, and so does another assembly. */
const NwStoppingPart *nw_view_state_get_stops(NwViewState *self, gsize *count);
void nw_view_state_set_stops(NwViewState *self, const NwStoppingPart *stops, gsize count);

double nw_view_state_get_position(NwViewState *self);
void nw_view_state_set_position(NwViewState *self, double position);
int nw_view_state_get_slides(
    NwViewState *self); /* slides of the assembly shown; 0 for the sketch */

NwLook nw_view_state_get_look(NwViewState *self);
void nw_view_state_set_look(NwViewState *self, NwLook look);

double nw_view_state_get_explode(NwViewState *self); /* 0 to 1 */
void nw_view_state_set_explode(NwViewState *self, double explode);

gboolean nw_view_state_get_one_colour(NwViewState *self);
void nw_view_state_set_one_colour(NwViewState *self, gboolean one_colour);

gboolean nw_view_state_get_parallel(NwViewState *self);
void nw_view_state_set_parallel(NwViewState *self, gboolean parallel);

gboolean nw_view_state_get_tips(NwViewState *self); /* light the sharp tips */
void nw_view_state_set_tips(NwViewState *self, gboolean tips);

/* Whether the table of what stops each piece stands in place of the layers while an assembly is
 * shown. */
gboolean nw_view_state_get_obstacles(NwViewState *self);
void nw_view_state_set_obstacles(NwViewState *self, gboolean obstacles);

/* The cutting plane: parts of cells at `level` and beyond along an axis are not drawn and not
 * picked. Axis -1: no cut. The level is a cell coordinate of the envelope. */
int nw_view_state_get_cut_axis(NwViewState *self);
int nw_view_state_get_cut_level(NwViewState *self);
void nw_view_state_set_cut(NwViewState *self, int axis, int level);

/* The axis whose layers the layer board shows. */
int nw_view_state_get_board_axis(NwViewState *self);
void nw_view_state_set_board_axis(NwViewState *self, int axis);

/* The part under the pointer or the keyboard cursor, of either view; FALSE for none. */
gboolean nw_view_state_get_hover(NwViewState *self, NwPart *part);
void nw_view_state_set_hover(NwViewState *self, const NwPart *part); /* NULL: none */

/* The parts that the brush would touch at a part (design/edit.h selections), free it. */
NwSolid *nw_view_state_brush_parts(NwViewState *self, NwPart part);

G_END_DECLS

#endif
