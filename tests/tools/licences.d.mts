export function shippedPackages(): { name: string; version: string; licence: string }[]
