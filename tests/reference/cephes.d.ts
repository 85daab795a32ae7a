/** The package's own types lie where TypeScript doesn't look: its `exports` don't name them. */
declare module 'cephes' {
  const cephes: {
    /** the natural logarithm of |B(a, b)| */
    lbeta(a: number, b: number): number;
  };
  export default cephes;
}
