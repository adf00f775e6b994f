"use client";

import { Component, type ReactNode } from "react";

/** A chart that cannot be drawn says so and leaves the table; it never takes the page with it. */
export class ChartBoundary extends Component<
  { readonly children: ReactNode; readonly instead: (failure: Error) => ReactNode },
  { readonly failure: Error | null }
> {
  override state = { failure: null };

  static getDerivedStateFromError(failure: Error) {
    return { failure };
  }

  override componentDidCatch(failure: Error) {
    console.info(`A chart could not be drawn: ${failure.message}`);
  }

  override render() {
    return this.state.failure === null ? this.props.children : this.props.instead(this.state.failure);
  }
}
