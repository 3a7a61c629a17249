/* Products: what can be made of a design, as rows that the command line and the window both read.
 *
 * A product has a name, options with bounds and defaults, and a function that makes it. `notch
 * make NAME` builds its options from the row, the window its controls; neither knows more about a
 * product than stands here, so a new one is a file here and a row in products.c.
 *
 * Texts are in English, marked for translation; whoever shows them translates. Thread: any, all is
 * constant. */
#ifndef NW_EXPORT_PRODUCT_H
#define NW_EXPORT_PRODUCT_H

#include <glib.h>

#include "make/output.h"
#include "make/progress.h"

typedef enum NwOptionKind { NW_OPTION_NUMBER, NW_OPTION_SWITCH, NW_OPTION_CHOICE } NwOptionKind;

/* One of the words that a choice takes. */
typedef struct NwOptionChoice {
    const char *word;  /* for the command line, not translated */
    const char *label; /* for the window */
} NwOptionChoice;

typedef struct NwOption {
    const char *name; /* "cell-mm" */
    NwOptionKind kind;
    const char *label; /* for the window: "Length of a cell" */
    const char *help;  /* for the command line, defaults included: "Length of a cell (20)" */
    const char *unit;  /* of a number, as the command line names it: "MM" */
    double least, most, standard;
    int digits;                    /* after the point, that the window shows */
    const NwOptionChoice *choices; /* of a choice; the first is taken if none is said */
    size_t choice_count;
    gboolean search; /* belongs to the search, which the window has its own controls for */
} NwOption;

/* What it is written to. */
typedef enum NwExportTarget { NW_EXPORT_TARGET_FILE, NW_EXPORT_TARGET_FOLDER } NwExportTarget;

typedef struct NwExportRequest NwExportRequest; /* export_request.h */
typedef struct NwExportReport NwExportReport;   /* export_report.h */

typedef struct NwProduct {
    const char *name;  /* "mesh" */
    const char *title; /* "3D Models" */
    const char *brief; /* one sentence for the window */
    const char *about; /* for the command line's help */
    NwExportTarget target;
    const char *const *endings; /* of the file, each with its point; ends with NULL. The first is
                                 * suggested */
    const NwOption *options;
    size_t option_count;
    gboolean unverified; /* may be made of a design that has faults or was never searched */

    /* Adds the cautions for the tools that it leads to, as the options stand. They are to be read
     * before anything is made, and are added once more to what is made. NULL: none. At once. */
    void (*warn)(const NwExportRequest *request, NwExportReport *report);

    /* Makes it: adds files to `output`, what there is to say to `made`. Nothing is written here.
     * FALSE with an error whose message is one sentence: refused, or stopped. */
    gboolean (*make)(const NwExportRequest *request, NwOutput *output, NwExportReport *report,
                     NwProgress *progress, GError **error);
} NwProduct;

#endif
