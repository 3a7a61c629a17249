/* An assembly drawn in letters, layer by layer. */
#ifndef NW_CLI_LAYERS_H
#define NW_CLI_LAYERS_H

#include "assembly/found_assembly.h"

/* The letter of a body: A to Z, a to z, then digits. */
char nw_layers_letter(int body);

/* Prints all layers on standard output, side by side as far as the width of a page allows. */
void nw_layers_print(const NwDesign *design, const NwFoundAssembly *finding);

#endif
