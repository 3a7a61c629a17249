/* Marks a text for translation. The kernel translates nothing: whoever shows the text does. */
#ifndef NW_BASE_MARK_H
#define NW_BASE_MARK_H

#define N_(text) (text)

#endif
