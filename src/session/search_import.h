/* What a complete search of the window knows, in the words of src/cook: so that an advisor need not
 * search the design once more. Thread: the main one. */
#ifndef NW_SESSION_SEARCH_IMPORT_H
#define NW_SESSION_SEARCH_IMPORT_H

#include "cook/enumeration.h"
#include "session/search_session.h"

/* All assemblies, or none if the search of the design as it is now is not complete. The caller
 * clears them with nw_founds_clear. */
NwFounds nw_search_session_founds(NwSearchSession *session);

/* The number in the list of the assembly with that key; 0 if the list does not have it. */
guint nw_search_session_number_of(NwSearchSession *session, guint64 key);

#endif
