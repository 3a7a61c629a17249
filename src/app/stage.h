/* What the viewport shows, and from which step of which assembly: shared by the viewport, the
 * strip of slides and the lists.
 *
 * The stage either shows the sketch (the pieces where the maker draws them) or one assembly of the
 * hunt, at a position along its way out. Position 0 is the assembly, position k the moment after
 * slide k, and fractions are on the way.
 *
 * Signals:
 *   "changed"   anything here is another: draw again
 *   "position"  only the position along the way out is another
 * Thread: the main one. */
#ifndef NW_APP_STAGE_H
#define NW_APP_STAGE_H

#include "app/advice.h"
#include "app/document.h"
#include "app/hunt.h"
#include "slide/obstacles.h"
#include "view/scene.h"

G_BEGIN_DECLS

#define NW_TYPE_STAGE (nw_stage_get_type())
G_DECLARE_FINAL_TYPE(NwStage, nw_stage, NW, STAGE, GObject)

NwStage *nw_stage_new(NwDocument *document, NwHunt *hunt);
NwDocument *nw_stage_get_document(NwStage *self);
NwHunt *nw_stage_get_hunt(NwStage *self);

/* The assembly shown, or NULL for the sketch; borrowed. Setting one goes to position 0. */
NwFindingItem *nw_stage_get_item(NwStage *self);
void nw_stage_set_item(NwStage *self, NwFindingItem *item);

/* The design that the assembly shown is of; borrowed, NULL if there is none. It is that of the hunt
 * but for a lone assembly, which is in no list: that brings a copy of its own design along. */
const NwDesign *nw_stage_get_item_design(NwStage *self);
void nw_stage_set_lone(NwStage *self, NwFindingItem *item, const NwDesign *design);
gboolean nw_stage_is_lone(NwStage *self);

/* A second assembly laid beside the first, or NULL. */
NwFindingItem *nw_stage_get_beside(NwStage *self);
void nw_stage_set_beside(NwStage *self, NwFindingItem *item);

/* A proposal that blocks a cook, shown in the sketch: its parts are lit there, and beside it stands
 * the cook of its kill number `kill` with what collides there lit. NULL takes it away; so does any
 * change of the design, and choosing an assembly. */
NwAdvice *nw_stage_get_advice(NwStage *self, gsize *kill);
void nw_stage_set_advice(NwStage *self, NwAdvice *advice, gsize kill);

/* The parts of the assembly shown that stop one of its pieces, to be lit, by body; borrowed. Going
 * on along the way out takes them away, and so does another assembly. */
const NwStoppingPart *nw_stage_get_stops(NwStage *self, gsize *count);
void nw_stage_set_stops(NwStage *self, const NwStoppingPart *stops, gsize count);

double nw_stage_get_position(NwStage *self);
void nw_stage_set_position(NwStage *self, double position);
int nw_stage_get_slides(NwStage *self); /* slides of the assembly shown; 0 for the sketch */

NwLook nw_stage_get_look(NwStage *self);
void nw_stage_set_look(NwStage *self, NwLook look);

double nw_stage_get_explode(NwStage *self); /* 0 to 1 */
void nw_stage_set_explode(NwStage *self, double explode);

gboolean nw_stage_get_one_colour(NwStage *self);
void nw_stage_set_one_colour(NwStage *self, gboolean one_colour);

gboolean nw_stage_get_parallel(NwStage *self);
void nw_stage_set_parallel(NwStage *self, gboolean parallel);

gboolean nw_stage_get_tips(NwStage *self); /* light the sharp tips */
void nw_stage_set_tips(NwStage *self, gboolean tips);

/* Whether the table of what stops each piece stands in place of the layers while an assembly is
 * shown. */
gboolean nw_stage_get_obstacles(NwStage *self);
void nw_stage_set_obstacles(NwStage *self, gboolean obstacles);

/* The cutting plane: parts of cells at `level` and beyond along an axis are not drawn and not
 * picked. Axis -1: no cut. The level is a cell coordinate of the envelope. */
int nw_stage_get_cut_axis(NwStage *self);
int nw_stage_get_cut_level(NwStage *self);
void nw_stage_set_cut(NwStage *self, int axis, int level);

/* The axis whose layers the layer board shows. */
int nw_stage_get_board_axis(NwStage *self);
void nw_stage_set_board_axis(NwStage *self, int axis);

/* The part under the pointer or the keyboard cursor, of either view; FALSE for none. */
gboolean nw_stage_get_hover(NwStage *self, NwPart *part);
void nw_stage_set_hover(NwStage *self, const NwPart *part); /* NULL: none */

/* The parts that the brush would touch at a part (design/edit.h selections), free it. */
NwSolid *nw_stage_brush_parts(NwStage *self, NwPart part);

G_END_DECLS

#endif
