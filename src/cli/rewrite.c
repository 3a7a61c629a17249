#include "cli/rewrite.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include "design/frame.h"
#include "format/design_json.h"
#include "store/history.h"

static NwExit print_design(const NwDesign *design) {
    char *json = nw_design_to_json(design);
    fputs(json, stdout);
    g_free(json);
    return NW_EXIT_COMPLETE;
}

static NwExit save_file(const NwDesign *design, const NwRewrite *rewrite, const char *path) {
    GError *error = NULL;
    if (!nw_design_save(design, path, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    printf(_("%s\nSaved to %s.\n"), rewrite->sentence, path);
    return NW_EXIT_COMPLETE;
}

static NwExit save_version(NwDesign *design, const NwRewrite *rewrite) {
    NwStatus status = nw_design_settle(design);
    if (status != NW_OK) {
        nw_complain(_("the design cannot be drawn so: %s"), nw_status_text(status));
        return NW_EXIT_FAILED;
    }
    GError *error = NULL;
    NwLibrary *library = nw_library_open(rewrite->store, NW_LIBRARY_READ_WRITE, &error);
    if (!library)
        return nw_give_up(error, NW_EXIT_FAILED);
    NwDesignEntry *entry = nw_library_find_design(library, design->name, &error);
    gboolean saved =
        entry && nw_library_save_edit(library, entry->id, design, rewrite->action, NULL, &error);
    nw_design_entry_free(entry);
    nw_library_close(library);
    if (!saved)
        return nw_give_up(error, NW_EXIT_FAILED);
    printf(_("%s\nSaved in the store.\n"), rewrite->sentence);
    return NW_EXIT_COMPLETE;
}

NwExit nw_rewrite(NwDesign *design, const NwRewrite *rewrite) {
    if (rewrite->out)
        return save_file(design, rewrite, rewrite->out);
    if (strcmp(rewrite->argument, "-") == 0)
        return print_design(design);
    if (rewrite->unchanged) {
        printf("%s\n", rewrite->sentence);
        return NW_EXIT_COMPLETE;
    }
    return rewrite->stored ? save_version(design, rewrite)
                           : save_file(design, rewrite, rewrite->argument);
}
