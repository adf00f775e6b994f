/** Runs bodies one after another in the order they were given; a body that fails does not stop the next one. */
export class Queue {
  #tail: Promise<unknown> = Promise.resolve();

  run<T>(body: () => T | Promise<T>): Promise<T> {
    const result = this.#tail.then(body);
    // The caller receives the failure; here it only marks the end of the turn.
    this.#tail = result.then(
      () => undefined,
      () => undefined,
    );
    return result;
  }
}
