/**
 * Prepared statements kept for the queries that come again. Each holds some 20 kB outside of the runtime's sight until it is
 * collected; with a new one for each query an engine that was read from for minutes held 640 MB in place of 240.
 */
import type { Connection } from './connect.ts'

type Statement = ReturnType<Connection['prepare']>

/** More than the pages ask; those used last stay. */
const mostKept = 300

/** What the query builder needs of a connection. It sets no mode on a statement, so that one can be used again. */
export function keepStatements(connection: Connection): { prepare(sql: string): Statement; close(): void } {
  const kept = new Map<string, Statement>()
  return {
    prepare(sql) {
      const statement = kept.get(sql) ?? connection.prepare(sql)
      kept.delete(sql)
      kept.set(sql, statement)
      const [oldest] = kept.keys()
      if (kept.size > mostKept && oldest !== undefined) kept.delete(oldest)
      return statement
    },
    close: () => void connection.close(),
  }
}
