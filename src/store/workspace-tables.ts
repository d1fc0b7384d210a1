/**
 * Selects the names of all tables whose rows carry the id of a workspace. Names come from our own migrations. An object
 * has tables of the platform, too, which nobody may even ask about.
 */
export const WORKSPACE_TABLES = `SELECT t.name FROM sqlite_schema AS t JOIN pragma_table_info(t.name) AS c
  WHERE t.type = 'table' AND t.name NOT GLOB '_cf_*' AND c.name = 'workspace_id' ORDER BY t.name`;
