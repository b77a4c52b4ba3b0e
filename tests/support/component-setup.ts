/** What is waited for comes, or the test fails, however slow the machine is; by itself the library gives up after a second. */
import { configure } from '@testing-library/svelte'

configure({ asyncUtilTimeout: 120_000 })
