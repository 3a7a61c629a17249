/* The pictures of a sheet for the box, drawn without a display.
 *
 * Their ground is white, since they are printed. An album counts its pictures as the progress of
 * the stage, and draws no more once that is stopped (G_IO_ERROR_CANCELLED). Thread: the one that
 * made the album. */
#ifndef NW_EXPORT_SHEET_PICTURES_H
#define NW_EXPORT_SHEET_PICTURES_H

#include "make/progress.h"
#include "make/sheet/sheet.h"
#include "view/picture.h"
#include "view/pose.h"

typedef struct NwAlbum {
    NwStudio *studio;
    NwProgress *progress; /* borrowed, may be NULL */
    guint done, wanted;   /* pictures */
} NwAlbum;

/* An album of so many pictures; NULL with an error where none can be made. */
NwAlbum *nw_album_new(guint wanted, NwProgress *progress, GError **error);
void nw_album_free(NwAlbum *album); /* NULL is allowed */

/* The finished solid in one tone, so that it does not tell where one piece ends and the next one
 * begins. */
gboolean nw_sheet_draw_solid(NwSheetPicture *picture, NwAlbum *album, const NwPosedScene *show,
                             GError **error);

/* Every piece of the design once, all to one scale, turned as it lies flattest, whatever its place
 * in the answer is. The pictures are those of sheet->pieces, which must be there. */
gboolean nw_sheet_draw_pieces(NwSheet *sheet, NwAlbum *album, const NwDesign *design,
                              GError **error);

/* A slide of the way out, made backwards: the bodies of `group` as they stand before, and an arrow
 * to where the moving ones go. `names` are those of the bodies. */
gboolean nw_sheet_draw_step(NwSheetPicture *picture, NwAlbum *album, const NwPosedScene *show,
                            int slide, guint32 group, const char *const *names, GError **error);

/* How many cells the moving bodies travel at that slide, where they go out: until their box has
 * left that of the rest of the group. */
int nw_sheet_depth(const NwPosedScene *show, int slide);

#endif
