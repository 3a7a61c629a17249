/* Cautions: a short sentence or two for each tool that a product leads to, and what is to be said
 * of small parts and sharp tips. Written for a person who makes one puzzle at home; they defer to
 * local rules and to those who are trained. Texts are in the language of the user. Thread: any. */
#ifndef NW_MAKE_SAFETY_SAFETY_NOTES_H
#define NW_MAKE_SAFETY_SAFETY_NOTES_H

#include "design/sharp_vertices.h"
#include "make/safety/small_parts.h"

typedef enum NwTool {
    NW_TOOL_PRINTER,
    NW_TOOL_KNIFE,
    NW_TOOL_SAW,
    NW_TOOL_SANDING,
    NW_TOOL_ACRYLIC, /* cutting and polishing it */
    NW_TOOL_CEMENT,  /* solvent cement for acrylic */
    NW_TOOL_GLUE,
    NW_TOOL_COUNT
} NwTool;

/* What to mind with the tool; borrowed. */
const char *nw_caution_for(NwTool tool);

/* The same for several tools, the bits 1 << NW_TOOL_..., in lines of at most so many letters where
 * words allow it, for a drawing; each tool begins a line. g_strfreev it. */
char **nw_dup_caution_lines(unsigned tools, int letters);

/* That none of this is a conformity test, and whose rules hold; borrowed. */
const char *nw_caution_limits(void);

/* On a piece that fits into the small-parts cylinder, or NULL for one that does not; g_free it. */
char *nw_dup_small_part_caution(const char *piece_name, const NwSmallPart *part);

/* On the sharp tips of a piece: how many, how many of them a hand can touch while the puzzle is
 * together, and the figure that is meant (design/sharp_vertices.h). NULL if it has none; g_free it.
 */
char *nw_dup_tips_caution(const char *piece_name, const NwTip *tips, size_t count);

#endif
