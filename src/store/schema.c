#include "store/schema.h"

static const char *const steps[] = {
    /* 1: designs, versions, runs, assemblies */
    "CREATE TABLE design ("
    "  id INTEGER PRIMARY KEY AUTOINCREMENT,"
    "  name TEXT NOT NULL UNIQUE,"
    "  current INTEGER REFERENCES version (id) DEFERRABLE INITIALLY DEFERRED"
    ") STRICT;"

    "CREATE TABLE version ("
    "  id INTEGER PRIMARY KEY AUTOINCREMENT,"
    "  design INTEGER NOT NULL REFERENCES design (id) ON DELETE CASCADE,"
    "  parent INTEGER REFERENCES version (id) ON DELETE SET NULL,"
    "  created INTEGER NOT NULL,"
    "  note TEXT NOT NULL,"
    "  name TEXT NOT NULL,"
    "  mirrors_together INTEGER NOT NULL CHECK (mirrors_together IN (0, 1)),"
    "  envelope BLOB NOT NULL,"
    "  may_be_empty BLOB NOT NULL,"
    "  content BLOB NOT NULL CHECK (length(content) = 32)" /* SHA-256 of all that was drawn */
    ") STRICT;"
    "CREATE INDEX version_design ON version (design);"
    "CREATE INDEX version_parent ON version (parent);"
    "CREATE INDEX design_current ON design (current);"

    "CREATE TABLE piece ("
    "  version INTEGER NOT NULL REFERENCES version (id) ON DELETE CASCADE,"
    "  ordinal INTEGER NOT NULL CHECK (ordinal >= 0),"
    "  name TEXT NOT NULL,"
    "  colour TEXT NOT NULL,"
    "  copies INTEGER NOT NULL CHECK (copies >= 1),"
    "  cells BLOB NOT NULL,"
    "  PRIMARY KEY (version, ordinal)"
    ") STRICT, WITHOUT ROWID;"

    "CREATE TABLE intended ("
    "  version INTEGER NOT NULL,"
    "  ordinal INTEGER NOT NULL CHECK (ordinal >= 0),"
    "  piece INTEGER NOT NULL,"
    "  turn TEXT NOT NULL,"
    "  x INTEGER NOT NULL, y INTEGER NOT NULL, z INTEGER NOT NULL,"
    "  PRIMARY KEY (version, ordinal),"
    "  FOREIGN KEY (version, piece) REFERENCES piece (version, ordinal) ON DELETE CASCADE"
    ") STRICT, WITHOUT ROWID;"
    "CREATE INDEX intended_piece ON intended (version, piece);"

    "CREATE TABLE run ("
    "  id INTEGER PRIMARY KEY AUTOINCREMENT,"
    "  version INTEGER NOT NULL REFERENCES version (id) ON DELETE CASCADE,"
    "  options TEXT NOT NULL,"
    "  state TEXT NOT NULL CHECK (state IN ('open', 'complete', 'limited')),"
    "  share REAL NOT NULL CHECK (share BETWEEN 0 AND 1),"
    "  started INTEGER NOT NULL,"
    "  saved INTEGER NOT NULL,"
    "  resume BLOB,"
    "  UNIQUE (version, options)"
    ") STRICT;"

    "CREATE TABLE assembly ("
    "  run INTEGER NOT NULL REFERENCES run (id) ON DELETE CASCADE,"
    "  key BLOB NOT NULL CHECK (length(key) = 8)," /* big-endian: sorts as the number does */
    "  status TEXT NOT NULL"
    "    CHECK (status IN ('opens', 'unreachable', 'undecided', 'unexamined')),"
    "  level INTEGER NOT NULL,"
    "  total INTEGER NOT NULL,"
    "  verified INTEGER NOT NULL CHECK (verified IN (0, 1)),"
    "  states INTEGER NOT NULL,"
    "  placements BLOB NOT NULL,"
    "  way_out BLOB,"
    "  PRIMARY KEY (run, key)"
    ") STRICT, WITHOUT ROWID;",

    /* 2: the way forth again after undo, and what each edit was. In a store of version 1 nobody
     * has undone anything yet, so the way forth is the newest child, and along the line that leads
     * to the current version, that line. */
    "ALTER TABLE version ADD COLUMN redo INTEGER REFERENCES version (id) ON DELETE SET NULL;"
    "ALTER TABLE version ADD COLUMN action TEXT NOT NULL DEFAULT '';"
    "CREATE INDEX version_redo ON version (redo);"
    "UPDATE version SET redo = (SELECT max(c.id) FROM version AS c WHERE c.parent = version.id);"
    "WITH RECURSIVE line (id, parent) AS ("
    "  SELECT v.id, v.parent FROM design AS d JOIN version AS v ON v.id = d.current"
    "  UNION SELECT v.id, v.parent FROM line JOIN version AS v ON v.id = line.parent) "
    "UPDATE version SET redo = line.id FROM line WHERE version.id = line.parent;",

    /* 3: trials. One outlives the version that was tried, not the design. */
    "CREATE TABLE trial ("
    "  id INTEGER PRIMARY KEY AUTOINCREMENT,"
    "  design INTEGER NOT NULL REFERENCES design (id) ON DELETE CASCADE,"
    "  version INTEGER REFERENCES version (id) ON DELETE SET NULL,"
    "  who TEXT NOT NULL,"
    "  tried INTEGER NOT NULL,"
    "  colours INTEGER NOT NULL CHECK (colours IN (0, 1)),"
    "  gave_up INTEGER NOT NULL CHECK (gave_up IN (0, 1)),"
    "  minutes REAL CHECK (minutes > 0),"
    "  remark TEXT NOT NULL,"
    "  CHECK (gave_up = 1 OR minutes IS NOT NULL)"
    ") STRICT;"
    "CREATE INDEX trial_design ON trial (design);"
    "CREATE INDEX trial_version ON trial (version);",

    /* 4: where advisors stand, one for each question about a version. */
    "CREATE TABLE advice ("
    "  version INTEGER NOT NULL REFERENCES version (id) ON DELETE CASCADE,"
    "  options TEXT NOT NULL,"
    "  saved INTEGER NOT NULL,"
    "  complete INTEGER NOT NULL CHECK (complete IN (0, 1)),"
    "  state BLOB NOT NULL,"
    "  PRIMARY KEY (version, options)"
    ") STRICT;",

    /* 5: how many slides any way out has, at the least. */
    "ALTER TABLE assembly ADD COLUMN at_least INTEGER NOT NULL DEFAULT 0;",
};

const NwSchema nw_schema = {steps, G_N_ELEMENTS(steps)};

int nw_schema_apply(sqlite3 *db, NwSchema schema, int from) {
    int code = SQLITE_OK;
    for (int i = from; i < schema.count && code == SQLITE_OK; i++) {
        code = sqlite3_exec(db, schema.steps[i], NULL, NULL, NULL);
        g_autofree char *count = g_strdup_printf("PRAGMA user_version = %d", i + 1);
        if (code == SQLITE_OK)
            code = sqlite3_exec(db, count, NULL, NULL, NULL);
    }
    return code;
}

/* All that the schema says, as one text. SQLite's own tables (sqlite_...) are no part of it. */
static char *describe(sqlite3 *db, int *code) {
    GString *text = g_string_new(NULL);
    sqlite3_stmt *each = NULL;
    *code = sqlite3_prepare_v2(db,
                               "SELECT type, name, tbl_name, sql FROM sqlite_schema "
                               "WHERE name NOT GLOB 'sqlite_*' ORDER BY type, name",
                               -1, &each, NULL);
    while (*code == SQLITE_OK && (*code = sqlite3_step(each)) == SQLITE_ROW) {
        for (int column = 0; column < 4; column++) {
            const char *part = (const char *)sqlite3_column_text(each, column);
            g_string_append_printf(text, "%s\n", part ? part : "");
        }
        *code = SQLITE_OK;
    }
    if (*code == SQLITE_DONE)
        *code = SQLITE_OK;
    sqlite3_finalize(each);
    return g_string_free(text, FALSE);
}

gboolean nw_schema_matches(sqlite3 *db, NwSchema schema, int version, int *code) {
    sqlite3 *model = NULL;
    *code = sqlite3_open(":memory:", &model);
    schema.count = MIN(schema.count, version);
    if (*code == SQLITE_OK)
        *code = nw_schema_apply(model, schema, 0);
    g_autofree char *wanted = NULL, *found = NULL;
    if (*code == SQLITE_OK)
        wanted = describe(model, code);
    if (*code == SQLITE_OK)
        found = describe(db, code);
    sqlite3_close(model);
    return *code == SQLITE_OK && g_strcmp0(wanted, found) == 0;
}
