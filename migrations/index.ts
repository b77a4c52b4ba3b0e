/** The steps from an empty file to today's tables, in order. A step is never edited once it has been released. */
export interface Migration {
  /** What `user_version` is after the step; in tens, so that a mend can go between. */
  version: number
  name: string
  sql: string
}

const files = import.meta.glob<string>('/migrations/*.sql', { query: '?raw', import: 'default', eager: true })

export const migrations: readonly Migration[] = Object.entries(files)
  .map(([path, sql]) => {
    const match = /\/(\d{4})-([a-z-]+)\.sql$/.exec(path)
    if (!match?.[1] || !match[2]) throw new Error(`${path} is not named like 0010-fields.sql.`)
    return { version: Number(match[1]), name: match[2], sql }
  })
  .sort((a, b) => a.version - b.version)

/** The version of files that this Standwell writes. */
export const latestVersion = migrations.at(-1)?.version ?? 0
