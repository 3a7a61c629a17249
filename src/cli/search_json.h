/* The events of a search as JSON, one object a line, on standard output. Flushed line by line, so
 * that a reader sees each as it happens. */
#ifndef NW_CLI_SEARCH_JSON_H
#define NW_CLI_SEARCH_JSON_H

#include <json-glib/json-glib.h>

#include "job/search.h"

/* While it is set up, and once it is. */
void nw_search_json_setup(const NwSetupProgress *setup);
void nw_search_json_start(const NwSearch *search);
void nw_search_json_progress(const NwSearchProgress *progress);
void nw_search_json_assembly(const NwDesign *design, const NwFoundAssembly *finding,
                             guint64 number);
void nw_search_json_done(const NwSearchProgress *progress);

/* Members of an object: the slides in all of one that opens, and what is known of the fewest; where
 * every body stands, and the way out. */
void nw_search_json_add_total(JsonBuilder *builder, const NwFoundAssembly *finding);
void nw_search_json_add_placements(JsonBuilder *builder, const NwFoundAssembly *finding);
void nw_search_json_add_way_out(JsonBuilder *builder, const NwDesign *design,
                                const NwFoundAssembly *finding);

#endif
