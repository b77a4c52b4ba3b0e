/** The part of shpjs that is used: it ships no types of its own. */
declare module 'shpjs' {
  /** A zip with one or more shapefiles → GeoJSON in WGS84, whatever projection its .prj names. */
  export default function readShapefile(zip: ArrayBuffer): Promise<{ features: unknown[] } | { features: unknown[] }[]>
}
