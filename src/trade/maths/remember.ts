/**
 * Keeps what takes long to make, by a key, for as long as the process runs. What `make` throws is thrown, and nothing is kept.
 *
 * @param most beyond so many all are made anew, so that memory has a bound whatever people write
 */
export function remember<Value>(most: number): (key: string, make: () => Value) => Value {
  const known = new Map<string, Value>();
  return (key, make) => {
    const before = known.get(key);
    if (before !== undefined) return before;
    const value = make();
    if (known.size >= most) known.clear();
    known.set(key, value);
    return value;
  };
}
