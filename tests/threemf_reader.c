#include "threemf_reader.h"

#include <check.h>
#include <stddef.h>

#ifdef NW_HAVE_LIB3MF

/* The C interface of lib3mf 1.8. Its header is C++, so what is used of it is declared here. */
typedef struct Handle Handle;
typedef unsigned int Word;
typedef struct Vertex {
    float at[3];
} Vertex;
typedef struct Triangle {
    Word corners[3];
} Triangle;

int lib3mf_createmodel(Handle **model);
int lib3mf_release(Handle *instance);
int lib3mf_model_queryreader(Handle *model, const char *kind, Handle **reader);
int lib3mf_model_getunit(Handle *model, Word *unit);
int lib3mf_model_getmeshobjects(Handle *model, Handle **iterator);
int lib3mf_model_getbuilditems(Handle *model, Handle **iterator);
int lib3mf_reader_readfromfileutf8(Handle *reader, const char *path);
int lib3mf_reader_getwarningcount(Handle *reader, Word *count);
int lib3mf_resourceiterator_movenext(Handle *iterator, int *more);
int lib3mf_resourceiterator_getcurrent(Handle *iterator, Handle **resource);
int lib3mf_builditemiterator_movenext(Handle *iterator, int *more);
int lib3mf_object_getnameutf8(Handle *object, char *name, Word size, Word *needed);
int lib3mf_object_isvalidobject(Handle *object, int *valid);
int lib3mf_meshobject_ismanifoldandoriented(Handle *object, int *manifold);
int lib3mf_meshobject_getvertexcount(Handle *object, Word *count);
int lib3mf_meshobject_gettrianglecount(Handle *object, Word *count);
int lib3mf_meshobject_getvertex(Handle *object, Word index, Vertex *vertex);
int lib3mf_meshobject_gettriangle(Handle *object, Word index, Triangle *triangle);

/* What lib3mf 1.8 does not give back, of its own reading, is no leak of ours. */
void __lsan_disable(void) __attribute__((weak));
void __lsan_enable(void) __attribute__((weak));

static double volume_of(Handle *object) {
    Word count;
    double six = 0;
    ck_assert_int_eq(lib3mf_meshobject_gettrianglecount(object, &count), 0);
    for (Word i = 0; i < count; i++) {
        Triangle t;
        Vertex v[3];
        ck_assert_int_eq(lib3mf_meshobject_gettriangle(object, i, &t), 0);
        for (int k = 0; k < 3; k++)
            ck_assert_int_eq(lib3mf_meshobject_getvertex(object, t.corners[k], &v[k]), 0);
        for (int k = 0; k < 3; k++)
            six += (double)v[0].at[k] * ((double)v[1].at[(k + 1) % 3] * v[2].at[(k + 2) % 3] -
                                         (double)v[1].at[(k + 2) % 3] * v[2].at[(k + 1) % 3]);
    }
    return six / 6;
}

static void read_object(Handle *object, NwThreemfFacts *facts) {
    int valid = 0, manifold = 0;
    Word needed;
    ck_assert_int_eq(lib3mf_object_isvalidobject(object, &valid), 0);
    ck_assert_int_eq(lib3mf_meshobject_ismanifoldandoriented(object, &manifold), 0);
    if (!facts->objects)
        ck_assert_int_eq(
            lib3mf_object_getnameutf8(object, facts->first_name, sizeof facts->first_name, &needed),
            0);
    facts->objects++;
    facts->valid += valid != 0;
    facts->manifold += manifold != 0;
    facts->volume += volume_of(object);
}

bool nw_threemf_read(const char *path, NwThreemfFacts *facts) {
    Handle *model, *reader, *iterator;
    Word warnings, unit;
    int more;
    *facts = (NwThreemfFacts){0};
    if (__lsan_disable)
        __lsan_disable();
    ck_assert_int_eq(lib3mf_createmodel(&model), 0);
    ck_assert_int_eq(lib3mf_model_queryreader(model, "3mf", &reader), 0);
    ck_assert_int_eq(lib3mf_reader_readfromfileutf8(reader, path), 0);
    ck_assert_int_eq(lib3mf_reader_getwarningcount(reader, &warnings), 0);
    ck_assert_int_eq(lib3mf_model_getunit(model, &unit), 0);
    facts->warnings = (int)warnings;
    facts->unit = (int)unit;
    ck_assert_int_eq(lib3mf_model_getmeshobjects(model, &iterator), 0);
    while (lib3mf_resourceiterator_movenext(iterator, &more) == 0 && more) {
        Handle *object;
        ck_assert_int_eq(lib3mf_resourceiterator_getcurrent(iterator, &object), 0);
        read_object(object, facts);
        lib3mf_release(object);
    }
    lib3mf_release(iterator);
    ck_assert_int_eq(lib3mf_model_getbuilditems(model, &iterator), 0);
    while (lib3mf_builditemiterator_movenext(iterator, &more) == 0 && more)
        facts->items++;
    lib3mf_release(iterator);
    lib3mf_release(reader);
    lib3mf_release(model);
    if (__lsan_enable)
        __lsan_enable();
    return true;
}

#else

bool nw_threemf_read(const char *path, NwThreemfFacts *facts) {
    (void)path;
    *facts = (NwThreemfFacts){0};
    return false;
}

#endif
