#include "export/products.h"

#include <string.h>

static const NwProduct *const products[] = {
    &nw_product_mesh,
    &nw_product_nets,
    &nw_product_cuts,
#ifdef NW_PICTURES
    &nw_product_sheet,
#endif
};

const NwProduct *nw_product(size_t index) {
    return index < G_N_ELEMENTS(products) ? products[index] : NULL;
}

const NwProduct *nw_product_find(const char *name) {
    const NwProduct *product;
    for (size_t i = 0; (product = nw_product(i)); i++)
        if (strcmp(product->name, name) == 0)
            return product;
    return NULL;
}
