/* The store's file: what is opened, what is refused, and that what is refused stays as it was,
 * byte for byte and with no file beside it. */
#include <check.h>
#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "store/schema.h"
#include "store/statement.h"
#include "store_fixture.h"
#include "suite.h"

static void set_up(void) {
    store_folder_make();
}

static void tear_down(void) {
    store_folder_remove();
}

static NwLibrary *must_open(const char *path, NwLibraryMode mode) {
    g_autoptr(GError) error = NULL;
    NwLibrary *library = nw_library_open(path, mode, &error);
    ck_assert_msg(library != NULL, "%s", error ? error->message : "no error");
    return library;
}

/* A closed store with one design of two versions. */
static const char *make_store(const char *name) {
    const char *path = store_file(name);
    NwLibrary *library = must_open(path, NW_LIBRARY_CREATE);
    NwDesign *one = store_sample("One", 1), *two = store_sample("One", 2);
    gint64 id;
    ck_assert(nw_library_add_design(library, one, NULL, &id, NULL, NULL));
    ck_assert(nw_library_add_version(library, id, 0, two, NULL, NULL, NULL));
    nw_design_free(one);
    nw_design_free(two);
    nw_library_close(library);
    return path;
}

static void assert_error(GError **error, NwLibraryError code) {
    ck_assert_ptr_nonnull(*error);
    ck_assert_msg(g_error_matches(*error, NW_LIBRARY_ERROR, (int)code), "%s", (*error)->message);
    ck_assert_ptr_nonnull(strchr((*error)->message, ';')); /* what is wrong; what to do */
    g_clear_error(error);
}

/* Refused in every mode, with that error, and the folder is the same afterwards. */
static void assert_refused(const char *path, NwLibraryError code) {
    g_autofree char *before = store_snapshot();
    for (NwLibraryMode mode = NW_LIBRARY_READ_ONLY; mode <= NW_LIBRARY_CREATE; mode++) {
        g_autoptr(GError) error = NULL;
        ck_assert_ptr_null(nw_library_open(path, mode, &error));
        assert_error(&error, code);
        g_autofree char *after = store_snapshot();
        ck_assert_str_eq(before, after);
    }
}

static guint count_designs(NwLibrary *library) {
    g_autoptr(GPtrArray) list = nw_library_list_designs(library, NULL);
    ck_assert_ptr_nonnull(list);
    return list->len;
}

static void run_sql(const char *path, const char *sql) {
    sqlite3 *db;
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    char *why = NULL;
    ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, &why) == SQLITE_OK, "%s: %s", sql, why);
    ck_assert_int_eq(sqlite3_close(db), SQLITE_OK);
}

START_TEST(a_new_store_is_one_file_in_wal) {
    const char *path = make_store("a?b#c%41 \xc3\xa9.notch");
    g_autofree char *listing = store_snapshot();
    ck_assert_ptr_null(strchr(listing, '\n')); /* one file: no side files, no leftovers */
    g_autofree char *bytes = NULL;
    gsize size;
    ck_assert(g_file_get_contents(path, &bytes, &size, NULL));
    ck_assert_mem_eq(bytes, "SQLite format 3", 16);
    ck_assert(bytes[18] == 2 && bytes[19] == 2);
    ck_assert_mem_eq(bytes + 68, "NTWR", 4);
    NwLibrary *library = must_open(path, NW_LIBRARY_READ_WRITE);
    ck_assert(!nw_library_is_read_only(library));
    ck_assert_str_eq(nw_library_get_path(library), path);
    NwStatement mode = nw_statement(library, "PRAGMA journal_mode");
    ck_assert(nw_statement_row(&mode));
    g_autofree char *name = nw_column_dup_text(&mode, 0);
    ck_assert_str_eq(name, "wal");
    ck_assert(nw_statement_end(&mode, NULL));
    gint64 on = 0;
    ck_assert(nw_library_ask(library, "PRAGMA foreign_keys", nw_null(), 0, &on, NULL) && on == 1);
    ck_assert(nw_library_ask(library,
                             "SELECT count(*) FROM pragma_table_list WHERE schema = 'main'"
                             " AND type = 'table' AND name NOT LIKE 'sqlite_%'"
                             " AND strict = 0",
                             nw_null(), -1, &on, NULL));
    ck_assert_int_eq(on, 0); /* every table of ours is STRICT */
    ck_assert_uint_eq(count_designs(library), 1);
    nw_library_close(library);
}
END_TEST

START_TEST(the_default_place_is_made) {
    ck_assert(g_setenv("XDG_DATA_HOME", store_folder, TRUE));
    g_autofree char *path = nw_library_dup_default_path();
    g_autofree char *wanted = g_build_filename(store_folder, "notchwright", "library.notch", NULL);
    ck_assert_str_eq(path, wanted);
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_library_open(NULL, NW_LIBRARY_READ_WRITE, &error));
    assert_error(&error, NW_LIBRARY_ERROR_NOT_FOUND);
    NwLibrary *library = must_open(NULL, NW_LIBRARY_CREATE);
    ck_assert_str_eq(nw_library_get_path(library), wanted);
    nw_library_close(library);
    ck_assert_int_eq(g_remove(wanted), 0);
    g_autofree char *folder = g_path_get_dirname(wanted);
    ck_assert_int_eq(g_rmdir(folder), 0);
}
END_TEST

START_TEST(missing_stores_are_not_made_by_reading) {
    g_autofree char *before = store_snapshot();
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_library_open(store_file("no.notch"), NW_LIBRARY_READ_ONLY, &error));
    assert_error(&error, NW_LIBRARY_ERROR_NOT_FOUND);
    ck_assert_ptr_null(nw_library_open(store_file("no.notch"), NW_LIBRARY_READ_WRITE, &error));
    assert_error(&error, NW_LIBRARY_ERROR_NOT_FOUND);
    ck_assert_ptr_null(nw_library_open(store_file("no/such.notch"), NW_LIBRARY_CREATE, &error));
    assert_error(&error, NW_LIBRARY_ERROR_NOT_FOUND);
    g_autofree char *after = store_snapshot();
    ck_assert_str_eq(before, after);
    /* A log without its store would be taken for the new store's. */
    ck_assert(g_file_set_contents(store_file("no.notch-wal"), "log", 3, NULL));
    ck_assert_ptr_null(nw_library_open(store_file("no.notch"), NW_LIBRARY_CREATE, &error));
    assert_error(&error, NW_LIBRARY_ERROR_NOT_FOUND);
    ck_assert(!g_file_test(store_file("no.notch"), G_FILE_TEST_EXISTS));
}
END_TEST

START_TEST(files_of_others_are_left_alone) {
    const char *path = store_file("text.notch");
    ck_assert(g_file_set_contents(path, "Dear diary, SQLite format 3 is not for me.", -1, NULL));
    assert_refused(path, NW_LIBRARY_ERROR_NOT_OURS);
    path = store_file("empty.notch");
    ck_assert(g_file_set_contents(path, "", 0, NULL));
    assert_refused(path, NW_LIBRARY_ERROR_NOT_OURS);

    path = store_file("foreign.db"); /* also one with a log that waits to be written back */
    run_sql(path, "PRAGMA application_id = 77; PRAGMA journal_mode = WAL; CREATE TABLE t (x);");
    assert_refused(path, NW_LIBRARY_ERROR_NOT_OURS);
    sqlite3 *db;
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    sqlite3_db_config(db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
    ck_assert_int_eq(sqlite3_exec(db, "INSERT INTO t VALUES (1)", NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
    ck_assert(g_file_test(store_file("foreign.db-wal"), G_FILE_TEST_EXISTS));
    assert_refused(path, NW_LIBRARY_ERROR_NOT_OURS);

    path = store_file("folder.notch");
    ck_assert_int_eq(g_mkdir(path, 0755), 0);
    assert_refused(path, NW_LIBRARY_ERROR_NOT_OURS);
    path = store_file("pipe.notch");
    ck_assert_int_eq(mkfifo(path, 0644), 0);
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_library_open(path, NW_LIBRARY_CREATE, &error));
    assert_error(&error, NW_LIBRARY_ERROR_NOT_OURS);
}
END_TEST

START_TEST(random_bytes_are_left_alone) {
    g_autoptr(GRand) dice = g_rand_new_with_seed(20240817);
    const char *path = store_file("noise.notch");
    for (int round = 0; round < 20; round++) {
        guint8 noise[9000];
        for (gsize i = 0; i < sizeof noise; i++)
            noise[i] = (guint8)g_rand_int_range(dice, 0, 256);
        ck_assert(g_file_set_contents(path, (char *)noise, 1 + round * 450, NULL));
        assert_refused(path, NW_LIBRARY_ERROR_NOT_OURS);
    }
}
END_TEST

static char *read_store(const char *path, gsize *size) {
    char *bytes = NULL;
    ck_assert_msg(g_file_get_contents(path, &bytes, size, NULL), "%s", path);
    return bytes;
}

START_TEST(newer_stores_are_left_alone) {
    const char *path = make_store("newer.notch");
    g_autofree char *sql = g_strdup_printf("PRAGMA user_version = %d", nw_schema.count + 1);
    run_sql(path, sql);
    assert_refused(path, NW_LIBRARY_ERROR_NEWER);

    /* The new version number may be in the log only; then the store and its log stay. */
    path = make_store("newer-log.notch");
    sqlite3 *db;
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    sqlite3_db_config(db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
    ck_assert_int_eq(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
    /* The index of the log (-shm) is scratch memory that SQLite builds anew; it is no content. */
    gsize size, log_size, after_size, after_log_size;
    g_autofree char *bytes = read_store(path, &size);
    g_autofree char *log = read_store(store_file("newer-log.notch-wal"), &log_size);
    for (NwLibraryMode mode = NW_LIBRARY_READ_ONLY; mode <= NW_LIBRARY_CREATE; mode++) {
        g_autoptr(GError) error = NULL;
        ck_assert_ptr_null(nw_library_open(path, mode, &error));
        assert_error(&error, NW_LIBRARY_ERROR_NEWER);
        g_autofree char *after = read_store(path, &after_size);
        g_autofree char *after_log = read_store(store_file("newer-log.notch-wal"), &after_log_size);
        ck_assert(after_size == size && memcmp(after, bytes, size) == 0);
        ck_assert(after_log_size == log_size && memcmp(after_log, log, log_size) == 0);
    }
}
END_TEST

START_TEST(damaged_stores_are_left_alone) {
    const char *whole = make_store("whole.notch");
    gsize size;
    g_autofree char *bytes = read_store(whole, &size);
    const char *path = store_file("cut.notch");
    for (gsize keep = 100; keep < size; keep += 1234) { /* cut short */
        ck_assert(g_file_set_contents(path, bytes, (gssize)keep, NULL));
        assert_refused(path, NW_LIBRARY_ERROR_DAMAGED);
    }
    path = store_file("blot.notch");
    for (gsize page = 0; page < size; page += 4096) { /* one page overwritten */
        g_autofree char *blotted = g_memdup2(bytes, size);
        memset(blotted + page + (page ? 0 : 100), 0xee, 600);
        ck_assert(g_file_set_contents(path, blotted, (gssize)size, NULL));
        assert_refused(path, NW_LIBRARY_ERROR_DAMAGED);
    }
    /* Sound pages, but not the tables that we make: one is missing, or a stranger has come in. */
    static const char *const changes[] = {
        "DROP TABLE assembly",
        "CREATE TRIGGER t AFTER INSERT ON design BEGIN DELETE FROM version; END",
        "CREATE VIEW v AS SELECT 1",
        "ALTER TABLE run ADD COLUMN more INTEGER",
        "PRAGMA user_version = 0",
        "PRAGMA user_version = -1",
    };
    path = store_file("changed.notch");
    for (gsize i = 0; i < G_N_ELEMENTS(changes); i++) {
        ck_assert(g_file_set_contents(path, bytes, (gssize)size, NULL));
        run_sql(path, changes[i]);
        assert_refused(path, NW_LIBRARY_ERROR_DAMAGED);
    }
}
END_TEST

/* Values that SQLite finds sound and that no writer of ours would have written. */
START_TEST(damaged_rows_are_reported_when_read) {
    static const char *const changes[] = {
        "UPDATE version SET envelope = x'010203'",
        "UPDATE version SET envelope = x'00000000000020'",
        "UPDATE version SET envelope = x'0000000000001f0000000000001f'",
        "UPDATE version SET may_be_empty = x'ff7f000000001f'",
        "UPDATE piece SET cells = x'00000000000000'",
        "UPDATE piece SET copies = 1000 WHERE ordinal = 0",
        "UPDATE piece SET colour = 'rather red'",
        "UPDATE piece SET ordinal = 7 WHERE ordinal = 0",
        "UPDATE intended SET turn = '+x+x+z'",
        "UPDATE intended SET x = 99999999999",
        "DELETE FROM intended WHERE ordinal = 1",
    };
    gsize size;
    g_autofree char *bytes = read_store(make_store("whole.notch"), &size);
    const char *path = store_file("rows.notch");
    for (gsize i = 0; i < G_N_ELEMENTS(changes); i++) {
        ck_assert(g_file_set_contents(path, bytes, (gssize)size, NULL));
        run_sql(path, changes[i]);
        NwLibrary *library = must_open(path, NW_LIBRARY_READ_WRITE);
        g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, "One", NULL);
        ck_assert_ptr_nonnull(entry);
        g_autoptr(GError) error = NULL;
        NwDesign *design = nw_library_load_design(library, entry->current_version, &error);
        ck_assert_msg(design == NULL, "%s", changes[i]);
        assert_error(&error, NW_LIBRARY_ERROR_DAMAGED);
        nw_library_close(library);
    }
}
END_TEST

static void assert_reads_only(const char *path, NwLibraryMode mode) {
    NwLibrary *library = must_open(path, mode);
    ck_assert(nw_library_is_read_only(library));
    g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, "One", NULL);
    ck_assert_ptr_nonnull(entry);
    ck_assert_int_eq(entry->versions, 2);
    NwDesign *design = nw_library_load_design(library, entry->current_version, NULL);
    ck_assert_ptr_nonnull(design);
    g_autoptr(GError) error = NULL;
    gint64 run;
    ck_assert(!nw_library_add_design(library, design, NULL, NULL, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_READ_ONLY);
    ck_assert(!nw_library_begin_run(library, entry->current_version, "{}", &run, &error));
    assert_error(&error, NW_LIBRARY_ERROR_READ_ONLY);
    ck_assert(!nw_library_remove_design(library, entry->id, &error));
    assert_error(&error, NW_LIBRARY_ERROR_READ_ONLY);
    nw_design_free(design);
    nw_library_close(library);
}

START_TEST(reading_mode_changes_nothing) {
    const char *path = make_store("read.notch");
    g_autofree char *before = store_snapshot();
    assert_reads_only(path, NW_LIBRARY_READ_ONLY);
    g_autofree char *after = store_snapshot();
    ck_assert_str_eq(before, after);
}
END_TEST

/* Permission bits do not bind root, so root becomes nobody for as long as the test lasts. */
enum { NOBODY = 65534 };

static void become(uid_t user) {
    ck_assert_int_eq(setresuid(user, user, 0), 0);
}

static void assert_reads_only_without_rights(const char *path, mode_t file, mode_t folder) {
    gboolean root = geteuid() == 0;
    ck_assert_int_eq(g_chmod(path, (int)file), 0);
    ck_assert_int_eq(g_chmod(store_folder, (int)folder), 0);
    g_autofree char *before = store_snapshot();
    if (root)
        become(NOBODY);
    ck_assert(access(path, W_OK) != 0 || access(store_folder, W_OK) != 0);
    for (NwLibraryMode mode = NW_LIBRARY_READ_ONLY; mode <= NW_LIBRARY_CREATE; mode++)
        assert_reads_only(path, mode);
    if (folder == 0555) {
        g_autoptr(GError) error = NULL;
        ck_assert_ptr_null(nw_library_open(store_file("new.notch"), NW_LIBRARY_CREATE, &error));
        assert_error(&error, NW_LIBRARY_ERROR_READ_ONLY);
    }
    if (root)
        become(0);
    g_autofree char *after = store_snapshot();
    ck_assert_str_eq(before, after);
    ck_assert_int_eq(g_chmod(store_folder, 0755), 0);
}

START_TEST(a_read_only_file_can_be_read) {
    assert_reads_only_without_rights(make_store("file.notch"), 0444, 0777);
}
END_TEST

START_TEST(a_read_only_folder_can_be_read) {
    assert_reads_only_without_rights(make_store("folder.notch"), 0666, 0555);
}
END_TEST

/* A store that was killed and then made read-only: its last versions are in the log. */
START_TEST(a_read_only_log_can_be_read) {
    const char *path = store_file("log.notch");
    pid_t child = fork();
    if (child == 0) {
        make_store("log.notch");
        NwLibrary *library = nw_library_open(path, NW_LIBRARY_READ_WRITE, NULL);
        NwDesign *late = store_sample("Late", 4);
        if (!library || !nw_library_add_design(library, late, NULL, NULL, NULL, NULL))
            _exit(1);
        kill(getpid(), SIGKILL);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status));
    ck_assert(g_file_test(store_file("log.notch-wal"), G_FILE_TEST_EXISTS));
    g_remove(store_file("log.notch-shm"));
    g_chmod(store_file("log.notch-wal"), 0444);
    assert_reads_only_without_rights(path, 0444, 0555);
    g_chmod(path, 0644);
    g_chmod(store_file("log.notch-wal"), 0644);
    NwLibrary *library = must_open(path, NW_LIBRARY_READ_WRITE);
    ck_assert_uint_eq(count_designs(library), 2);
    nw_library_close(library);
}
END_TEST

START_TEST(a_locked_store_says_so) {
    const char *path = make_store("locked.notch");
    sqlite3 *other;
    ck_assert_int_eq(sqlite3_open(path, &other), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    NwLibrary *library = must_open(path, NW_LIBRARY_READ_WRITE); /* reading is still free */
    ck_assert_uint_eq(count_designs(library), 1);
    NwDesign *design = store_sample("Two", 2);
    g_autoptr(GError) error = NULL;
    gint64 start = g_get_monotonic_time();
    ck_assert(!nw_library_add_design(library, design, NULL, NULL, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_IN_USE);
    ck_assert_int_ge(g_get_monotonic_time() - start, G_USEC_PER_SEC); /* it was patient */
    ck_assert_int_eq(sqlite3_exec(other, "COMMIT", NULL, NULL, NULL), SQLITE_OK);
    ck_assert(nw_library_add_design(library, design, NULL, NULL, NULL, &error));
    nw_library_close(library);
    /* Another program keeps it all to itself. */
    ck_assert_int_eq(sqlite3_exec(other,
                                  "PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE;"
                                  "UPDATE design SET name = name; COMMIT",
                                  NULL, NULL, NULL),
                     SQLITE_OK);
    ck_assert_ptr_null(nw_library_open(path, NW_LIBRARY_READ_WRITE, &error));
    assert_error(&error, NW_LIBRARY_ERROR_IN_USE);
    sqlite3_close(other);
    library = must_open(path, NW_LIBRARY_READ_WRITE);
    ck_assert_uint_eq(count_designs(library), 2);
    nw_library_close(library);
    nw_design_free(design);
}
END_TEST

/* The child of the kill test: opens (and at first creates), writes for ever, and reports the
 * design or the version of each committed write through the pipe. */
static void write_until_killed(const char *path, int pipe_end, int round) {
    NwLibrary *library = nw_library_open(path, NW_LIBRARY_CREATE, NULL);
    if (!library)
        _exit(1);
    for (int i = 0;; i++) {
        g_autofree char *name = g_strdup_printf("%d.%d", round, i);
        NwDesign *design = store_sample(name, i);
        gint64 committed[2];
        g_autoptr(GPtrArray) found =
            g_ptr_array_new_with_free_func((GDestroyNotify)nw_stored_assembly_free);
        for (guint64 key = 0; key < 40; key++)
            g_ptr_array_add(found, nw_stored_assembly_new(key, design->intended, 4));
        NwRunSave save = {NW_RUN_OPEN, 0.5, NULL, found};
        if (!nw_library_add_design(library, design, NULL, NULL, &committed[0], NULL) ||
            !nw_library_begin_run(library, committed[0], "{}", &committed[1], NULL) ||
            !nw_library_save_run(library, committed[1], &save, NULL) ||
            write(pipe_end, committed, sizeof committed) != sizeof committed)
            _exit(1);
        nw_design_free(design);
    }
}

/* Reads what the child reported before it was killed. */
static void collect(int pipe_end, GArray *committed) {
    gint64 pair[2];
    while (read(pipe_end, pair, sizeof pair) == sizeof pair)
        g_array_append_vals(committed, pair, 2);
}

static void assert_all_there(NwLibrary *library, const GArray *committed) {
    for (guint i = 0; i < committed->len; i += 2) {
        gint64 version = g_array_index(committed, gint64, i);
        g_autoptr(NwRun) run = nw_library_find_run(library, version, "{}", NULL);
        ck_assert_ptr_nonnull(run);
        ck_assert_int_eq(run->id, g_array_index(committed, gint64, i + 1));
        ck_assert_int_eq(run->found, 40);
        NwDesign *design = nw_library_load_design(library, version, NULL);
        ck_assert_ptr_nonnull(design);
        nw_design_free(design);
    }
    NwStatement check = nw_statement(library, "PRAGMA integrity_check");
    ck_assert(nw_statement_row(&check));
    g_autofree char *verdict = nw_column_dup_text(&check, 0);
    ck_assert_str_eq(verdict, "ok");
    ck_assert(nw_statement_end(&check, NULL));
    NwStatement links = nw_statement(library, "PRAGMA foreign_key_check");
    ck_assert(!nw_statement_row(&links));
    ck_assert(nw_statement_end(&links, NULL));
    gint64 halves = -1; /* a run that was saved has all of its assemblies or none */
    ck_assert(nw_library_ask(library,
                             "SELECT count(*) FROM run WHERE (share > 0) <> "
                             "((SELECT count(*) FROM assembly WHERE run = run.id) = 40)",
                             nw_null(), -1, &halves, NULL));
    ck_assert_int_eq(halves, 0);
}

START_TEST(killed_at_any_moment) {
    enum { KILLS = 40, LONGEST_US = 250000 };
    const char *path = store_file("killed.notch");
    g_autoptr(GRand) dice = g_rand_new_with_seed(7);
    g_autoptr(GArray) committed = g_array_new(FALSE, FALSE, sizeof(gint64));
    for (int round = 0; round < KILLS; round++) {
        int ends[2];
        ck_assert_int_eq(pipe(ends), 0);
        pid_t child = fork();
        if (child == 0) {
            close(ends[0]);
            write_until_killed(path, ends[1], round);
        }
        close(ends[1]);
        g_usleep((gulong)g_rand_int_range(dice, 0, LONGEST_US));
        ck_assert_int_eq(kill(child, SIGKILL), 0);
        int status;
        ck_assert_int_eq(waitpid(child, &status, 0), child);
        ck_assert_msg(WIFSIGNALED(status), "the writer failed in round %d", round);
        collect(ends[0], committed);
        close(ends[0]);
        /* Every other time the next child meets the log itself. */
        if (round % 2 == 0 || !g_file_test(path, G_FILE_TEST_EXISTS))
            continue;
        NwLibrary *library = must_open(path, NW_LIBRARY_READ_WRITE);
        assert_all_there(library, committed);
        nw_library_close(library);
    }
    ck_assert_uint_gt(committed->len, 2 * KILLS); /* it was not killed idle */
    g_remove(path);
}
END_TEST

/* How long a process takes to make a store, in microseconds, on this machine and as loaded as it
 * is. */
static gint64 measure_birth(const char *path) {
    gint64 began = g_get_monotonic_time();
    pid_t child = fork();
    if (child == 0) {
        NwLibrary *library = nw_library_open(path, NW_LIBRARY_CREATE, NULL);
        nw_library_close(library); /* or its log is left beside it */
        _exit(library ? 0 : 1);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    return g_get_monotonic_time() - began;
}

/* Killed while it makes the store, at moments up to twice the time that takes: there is none, or a
 * whole one. */
START_TEST(killed_at_birth) {
    const char *path = store_file("born.notch");
    gint64 birth = measure_birth(path);
    int whole = 0;
    for (int round = 0; round < 40; round++) {
        g_remove(path);
        pid_t child = fork();
        if (child == 0) {
            NwLibrary *library = nw_library_open(path, NW_LIBRARY_CREATE, NULL);
            if (library)
                pause();
            _exit(1);
        }
        g_usleep((gulong)(round * birth / 20));
        ck_assert_int_eq(kill(child, SIGKILL), 0);
        ck_assert_int_eq(waitpid(child, NULL, 0), child);
        if (!g_file_test(path, G_FILE_TEST_EXISTS))
            continue;
        whole++;
        NwLibrary *library = must_open(path, NW_LIBRARY_READ_WRITE);
        ck_assert_uint_eq(count_designs(library), 0);
        nw_library_close(library);
    }
    ck_assert_int_gt(whole, 0);
}
END_TEST

/* Migration itself, on steps made up for the test: from any version, in order, all or nothing. */
START_TEST(migration_goes_step_by_step) {
    static const char *const steps[] = {
        "CREATE TABLE a (x INTEGER) STRICT; INSERT INTO a VALUES (1)",
        "ALTER TABLE a ADD COLUMN y INTEGER; UPDATE a SET y = x + 1",
        "CREATE TABLE b (z INTEGER) STRICT; INSERT INTO b SELECT x + y FROM a",
    };
    NwSchema schema = {steps, 3};
    for (int from = 0; from < 3; from++) {
        sqlite3 *db;
        int code;
        ck_assert_int_eq(sqlite3_open(":memory:", &db), SQLITE_OK);
        ck_assert_int_eq(nw_schema_apply(db, (NwSchema){steps, from}, 0), SQLITE_OK);
        ck_assert(nw_schema_matches(db, schema, from, &code) && code == SQLITE_OK);
        ck_assert(!nw_schema_matches(db, schema, 3, &code) && code == SQLITE_OK);
        ck_assert_int_eq(nw_schema_apply(db, schema, from), SQLITE_OK);
        ck_assert(nw_schema_matches(db, schema, 3, &code) && code == SQLITE_OK);
        NwLibrary library = {.db = db};
        gint64 answer = 0;
        ck_assert(nw_library_ask(&library, "SELECT z FROM b", nw_null(), 0, &answer, NULL));
        ck_assert_int_eq(answer, 3);
        ck_assert(nw_library_ask(&library, "PRAGMA user_version", nw_null(), 0, &answer, NULL));
        ck_assert_int_eq(answer, 3);
        sqlite3_close(db);
    }
}
END_TEST

START_TEST(a_failed_migration_changes_nothing) {
    static const char *const steps[] = {"CREATE TABLE a (x INTEGER) STRICT",
                                        "ALTER TABLE a ADD COLUMN y INTEGER",
                                        "INSERT INTO nowhere VALUES (1)"};
    sqlite3 *db;
    int code;
    ck_assert_int_eq(sqlite3_open(store_file("steps.db"), &db), SQLITE_OK);
    ck_assert_int_eq(nw_schema_apply(db, (NwSchema){steps, 1}, 0), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    ck_assert_int_ne(nw_schema_apply(db, (NwSchema){steps, 3}, 1), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, "ROLLBACK", NULL, NULL, NULL), SQLITE_OK);
    ck_assert(nw_schema_matches(db, (NwSchema){steps, 3}, 1, &code) && code == SQLITE_OK);
    NwLibrary library = {.db = db};
    gint64 version = 0;
    ck_assert(nw_library_ask(&library, "PRAGMA user_version", nw_null(), 0, &version, NULL));
    ck_assert_int_eq(version, 1);
    sqlite3_close(db);
}
END_TEST

/* ---- several at once ----------------------------------------------------------------------- */

static const char another[] = "as another program";

/* What another program does, in a process of its own: it opens, writes, and closes. */
static int be_another(const char *path) {
    NwLibrary *library = nw_library_open(path, NW_LIBRARY_READ_WRITE, NULL);
    NwDesign *design = store_sample("Another", 3);
    gboolean added = library && nw_library_add_design(library, design, NULL, NULL, NULL, NULL);
    nw_design_free(design);
    nw_library_close(library);
    return added ? EXIT_SUCCESS : EXIT_FAILURE;
}

/* A process that opens the store a second time, and closes that again or does not, is known to
 * others as before: they do not take the log away that it works with. */
START_TEST(a_second_look_keeps_the_locks) {
    const char *path = make_store("a.notch");
    NwLibrary *library = must_open(path, NW_LIBRARY_READ_WRITE);
    NwDesign *design = store_sample("Two", 2);
    ck_assert(nw_library_add_design(library, design, NULL, NULL, NULL, NULL));
    NwLibrary *second = must_open(path, NW_LIBRARY_READ_WRITE);
    if (_i)
        nw_library_close(g_steal_pointer(&second));
    const char *argv[] = {"/proc/self/exe", another, path, NULL};
    g_autofree char *self = g_file_read_link(argv[0], NULL);
    int status = -1;
    argv[0] = self;
    ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL,
                           &status, NULL));
    ck_assert(g_spawn_check_wait_status(status, NULL));
    g_autofree char *log = g_strconcat(path, "-wal", NULL);
    ck_assert(g_file_test(log, G_FILE_TEST_EXISTS));

    /* All three go on to see what any of them writes. */
    gboolean there;
    g_autoptr(GError) error = NULL;
    NwDesignEntry *entry = nw_library_find_design(library, "Another", &error);
    ck_assert_msg(entry != NULL, "%s", error ? error->message : "what another wrote is not seen");
    nw_design_entry_free(entry);
    ck_assert(nw_library_remove_design(library, 1, NULL));
    NwLibrary *third = must_open(path, NW_LIBRARY_READ_WRITE);
    ck_assert(nw_library_has_design(third, 1, &there, NULL));
    ck_assert(!there);
    nw_library_close(third);
    nw_library_close(second);
    nw_library_close(library);
    nw_design_free(design);
}
END_TEST

int main(int argc, char **argv) {
    if (argc == 3 && strcmp(argv[1], another) == 0)
        return be_another(argv[2]);
    Suite *suite = suite_create("store-opening");
    TCase *opening = tcase_create("opening");
    tcase_add_checked_fixture(opening, set_up, tear_down);
    tcase_set_timeout(opening, 120);
    tcase_add_test(opening, a_new_store_is_one_file_in_wal);
    tcase_add_test(opening, the_default_place_is_made);
    tcase_add_test(opening, missing_stores_are_not_made_by_reading);
    tcase_add_test(opening, files_of_others_are_left_alone);
    tcase_add_test(opening, random_bytes_are_left_alone);
    tcase_add_test(opening, newer_stores_are_left_alone);
    tcase_add_test(opening, damaged_stores_are_left_alone);
    tcase_add_test(opening, damaged_rows_are_reported_when_read);
    tcase_add_test(opening, reading_mode_changes_nothing);
    tcase_add_test(opening, a_read_only_file_can_be_read);
    tcase_add_test(opening, a_read_only_folder_can_be_read);
    tcase_add_test(opening, a_read_only_log_can_be_read);
    tcase_add_test(opening, a_locked_store_says_so);
    tcase_add_test(opening, killed_at_any_moment);
    tcase_add_loop_test(opening, a_second_look_keeps_the_locks, 0, 2);
    tcase_add_test(opening, killed_at_birth);
    tcase_add_test(opening, migration_goes_step_by_step);
    tcase_add_test(opening, a_failed_migration_changes_nothing);
    suite_add_tcase(suite, opening);
    return run_suite(suite);
}
