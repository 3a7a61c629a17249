/* A small shape for what an assembly is, drawn in the colour of the text around it:
 *
 *     intended     a star, filled if it opens, else hollow
 *     cook         a filled triangle
 *     opens        a ring with a gap
 *     undecided    three dots
 *     unreachable  a ring with a bar through it
 *
 * It is decoration to a screen reader: the word always stands beside it. */
#ifndef NW_APP_ASSEMBLIES_STATE_MARK_H
#define NW_APP_ASSEMBLIES_STATE_MARK_H

#include <gtk/gtk.h>

#include "session/assembly_state.h"

G_BEGIN_DECLS

#define NW_TYPE_STATE_MARK (nw_state_mark_get_type())
G_DECLARE_FINAL_TYPE(NwStateMark, nw_state_mark, NW, STATE_MARK, GtkWidget)

GtkWidget *nw_state_mark_new(void);
void nw_state_mark_set_state(NwStateMark *self, NwAssemblyState state, gboolean opens);

G_END_DECLS

#endif
