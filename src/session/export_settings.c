#include "session/export_settings.h"

#include <string.h>

#define KEY "make-options"

static char *dup_name(const NwProduct *product, const NwOption *option) {
    return g_strdup_printf("%s/%s", product->name, option->name);
}

static gboolean belongs_to(const char *name, const NwProduct *product) {
    size_t length = strlen(product->name);
    return strncmp(name, product->name, length) == 0 && name[length] == '/';
}

/* All that is kept, but for one name, or for a whole product. */
static GVariantBuilder *dup_others(GSettings *settings, const char *name,
                                   const NwProduct *product) {
    g_autoptr(GVariant) kept = g_settings_get_value(settings, KEY);
    GVariantBuilder *builder = g_variant_builder_new(G_VARIANT_TYPE_VARDICT);
    GVariantIter iter;
    const char *key;
    GVariant *value;
    g_variant_iter_init(&iter, kept);
    while (g_variant_iter_next(&iter, "{&sv}", &key, &value)) {
        if (product ? !belongs_to(key, product) : strcmp(key, name) != 0)
            g_variant_builder_add(builder, "{sv}", key, value);
        g_variant_unref(value);
    }
    return builder;
}

static double choice_index(const NwOption *option, const char *word) {
    for (size_t i = 0; i < option->choice_count; i++)
        if (strcmp(option->choices[i].word, word) == 0)
            return (double)i;
    return option->standard;
}

double nw_export_settings_get(GSettings *settings, const NwProduct *product,
                              const NwOption *option) {
    g_autoptr(GVariant) kept = g_settings_get_value(settings, KEY);
    g_autofree char *name = dup_name(product, option);
    double number;
    gboolean on;
    const char *word;
    if (option->kind == NW_OPTION_NUMBER && g_variant_lookup(kept, name, "d", &number) &&
        number >= option->least && number <= option->most)
        return number;
    if (option->kind == NW_OPTION_SWITCH && g_variant_lookup(kept, name, "b", &on))
        return on;
    if (option->kind == NW_OPTION_CHOICE && g_variant_lookup(kept, name, "&s", &word))
        return choice_index(option, word);
    return option->standard;
}

static GVariant *to_keep(const NwOption *option, double value) {
    switch (option->kind) {
    case NW_OPTION_NUMBER:
        return g_variant_new_double(value);
    case NW_OPTION_SWITCH:
        return g_variant_new_boolean(value != 0);
    default:
        return g_variant_new_string(option->choices[(size_t)value].word);
    }
}

void nw_export_settings_set(GSettings *settings, const NwProduct *product, const NwOption *option,
                            double value) {
    g_autofree char *name = dup_name(product, option);
    g_autoptr(GVariantBuilder) builder = dup_others(settings, name, NULL);
    if (value != option->standard)
        g_variant_builder_add(builder, "{sv}", name, to_keep(option, value));
    g_settings_set_value(settings, KEY, g_variant_builder_end(builder));
}

void nw_export_settings_reset(GSettings *settings, const NwProduct *product) {
    g_autoptr(GVariantBuilder) builder = dup_others(settings, NULL, product);
    g_settings_set_value(settings, KEY, g_variant_builder_end(builder));
}

gboolean nw_export_settings_any(GSettings *settings, const NwProduct *product) {
    g_autoptr(GVariant) kept = g_settings_get_value(settings, KEY);
    GVariantIter iter;
    const char *key;
    g_variant_iter_init(&iter, kept);
    while (g_variant_iter_next(&iter, "{&sv}", &key, NULL))
        if (belongs_to(key, product))
            return TRUE;
    return FALSE;
}
