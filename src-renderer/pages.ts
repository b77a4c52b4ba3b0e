/** Every page by its stage, loaded when it is first gone to: the window starts with the plan, not with all of them. */
import type { Component } from 'svelte'
import type { FarmSummary } from '../src-shared/farm.ts'
import type { PageId } from './frame/stages.ts'
import PlanPage from './pages/plan/PlanPage.svelte'

/** What each page is given; it takes what it needs. */
export interface PageProps extends Record<string, unknown> {
  title: string
  purpose: string
  farm: FarmSummary
  /** The next season has begun. */
  begun: () => void
}

export type Page = Component<PageProps>

const method = () => import('./pages/method/MethodPage.svelte')

const loaders: Record<PageId, () => Promise<{ default: Page }>> = {
  fields: () => import('./pages/fields/FieldsPage.svelte'),
  varieties: () => import('./pages/varieties/VarietiesPage.svelte'),
  quotes: () => import('./pages/quotes/QuotesPage.svelte'),
  rules: () => import('./pages/rules/RulesPage.svelte'),
  plan: () => Promise.resolve({ default: PlanPage }),
  orders: () => import('./pages/orders/OrdersPage.svelte'),
  calendar: () => import('./pages/calendar/CalendarPage.svelte'),
  deliveries: () => import('./pages/deliveries/DeliveriesPage.svelte'),
  rates: () => import('./pages/rates/RatesPage.svelte'),
  planting: () => import('./pages/planting/PlantingPage.svelte'),
  harvest: () => import('./pages/harvest/HarvestPage.svelte'),
  review: () => import('./pages/review/ReviewPage.svelte'),
  next: () => import('./pages/next/NextPage.svelte'),
  method,
  file: () => import('./pages/file/FilePage.svelte'),
}

export async function loadPage(id: PageId): Promise<Page> {
  return (await loaders[id]()).default
}

/** The one page that needs no farm. */
export async function loadMethod(): Promise<Component<{ title: string; purpose: string }>> {
  return (await method()).default
}

/** The rest, once the window has nothing better to do: going to a page then waits for nothing. */
export async function loadAllPages(): Promise<void> {
  for (const load of Object.values(loaders)) await load()
}
