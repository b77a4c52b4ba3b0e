/** The part of jstat that the tests use; the package brings no types. */
declare module 'jstat' {
  interface Distribution2 {
    pdf(x: number, a: number, b: number): number
    cdf(x: number, a: number, b: number): number
    inv(p: number, a: number, b: number): number
  }
  const jstat: { normal: Distribution2; studentt: { inv(p: number, degrees: number): number } }
  export default jstat
}
