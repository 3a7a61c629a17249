/* The sheet that goes into the box.
 *
 *     page 1           the challenge: the finished solid, the pieces, what is to be done, and at
 *                      the foot what to mind
 *     sealed cover     begins the second part: fold lines, and where to put the seal
 *     then             the way in, step by step, each with its picture
 *     at the end       the proof note: what fits, what can be reached, which search says so
 *
 * A challenge alone is the first page. A sheet that claims that its answer is the only one is
 * refused unless a complete search says so; and so is one whose answer cannot be reached.
 *
 * Pictures are drawn by the caller and handed in as surfaces; letters on them are drawn here, as
 * text. Everything else here is in the language of the user. Ownership: a sheet owns what it
 * holds; free it with nw_sheet_free. Thread: one. */
#ifndef NW_MAKE_SHEET_SHEET_H
#define NW_MAKE_SHEET_SHEET_H

#include <cairo.h>
#include <glib.h>

#include "make/paper.h"
#include "slide/levels.h"

/* Width over height that pictures are best drawn with. */
#define NW_SHEET_SOLID_ASPECT 1.6
#define NW_SHEET_PIECE_ASPECT 1.25
#define NW_SHEET_STEP_ASPECT 1.5

/* A letter on a picture; its place in shares of the picture, y down. */
typedef struct NwSheetLabel {
    double x, y;
    char *text;
} NwSheetLabel;

typedef struct NwSheetPicture {
    cairo_surface_t *surface; /* an image; NULL: left blank */
    GArray *labels;           /* NwSheetLabel; NULL: none */
    gboolean has_arrow;
    double arrow[2][2]; /* its tail and its point, like labels */
} NwSheetPicture;

typedef struct NwSheetPiece {
    char *name;
    int copies;
    NwSheetPicture picture;
} NwSheetPiece;

typedef struct NwSheetStep {
    char *what;  /* one sentence */
    char *holds; /* what to hold, or "" */
    NwSheetPicture picture;
} NwSheetStep;

/* What the search says. */
typedef struct NwSheetProof {
    gboolean complete;
    gboolean has_intended; /* the design has an intended assembly */
    gboolean answer_opens; /* the answer is that one, or the first where none is intended */
    gboolean mirrors;      /* mirror images count as one */
    guint64 fitting, opening, unreachable, undecided, unexamined;
    NwLevels levels; /* of the way in that is given, taken apart */
    int total;
    char *search;  /* how it was searched, in sentences */
    char *version; /* of the design */
} NwSheetProof;

typedef struct NwSheet {
    char *title;
    double size_mm[3];  /* of the box round the finished solid */
    int bodies;         /* pieces, copies counted */
    gboolean diagonals; /* slides along diagonals of faces are allowed */
    NwSheetPicture solid;
    GArray *pieces; /* NwSheetPiece */
    GArray *steps;  /* NwSheetStep */
    NwSheetProof proof;
    char *caution;        /* at the foot of the challenge; NULL: none */
    gboolean claims_only; /* says that there is one answer */
    gboolean challenge;   /* without the sealed part */
    const NwPaperSize *paper;
} NwSheet;

NwSheet *nw_sheet_new(void);
void nw_sheet_free(NwSheet *sheet); /* NULL is allowed */

/* Whether other answers than the one given can be reached, as far as is known. */
guint64 nw_sheet_others(const NwSheetProof *proof);

/* Why the sheet must not be made, as a sentence without its full stop, or NULL. The caller frees.
 * Only the proof, `claims_only` and `challenge` are looked at. */
char *nw_sheet_dup_refusal(const NwSheet *sheet);

#endif
