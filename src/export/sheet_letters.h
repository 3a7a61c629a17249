/* Where the letters of pieces go on a picture: where a piece is seen, farthest from its rim, and
 * off the arrow if there is room. Thread: any. Cost: a ray for each of some thousand samples. */
#ifndef NW_EXPORT_SHEET_LETTERS_H
#define NW_EXPORT_SHEET_LETTERS_H

#include "make/sheet/sheet.h"
#include "view/painter.h"

/* Adds a letter for every one of the bodies that is seen; the arrow of the picture is set. `names`
 * are those of the bodies. */
void nw_sheet_letters_place(NwSheetPicture *picture, const NwScene *scene, const NwCamera *camera,
                            const NwPaintOptions *options, guint32 bodies,
                            const char *const *names);

#endif
