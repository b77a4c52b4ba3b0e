/** What stands in the flag that a run shares with its host: go on, stop because somebody asks, stop because time is up. */
export const STOPPED = 1
export const OUT_OF_TIME = 2
