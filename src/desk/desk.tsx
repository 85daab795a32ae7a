import { LocationProvider, Route, Router } from 'preact-iso';
import { SetUp } from './entry/set-up';
import { SignIn } from './entry/sign-in';
import { StudioEntry } from './entry/studio-entry';
import { Nowhere } from './nowhere';
import { PricePage } from './price/price-page';

/** The desk: each address is one question that the owner asks. */
export function Desk() {
  return (
    <LocationProvider>
      <Router>
        <Route path="/" component={PricePage} />
        <Route path="/price/:courseId" component={PricePage} />
        <Route path="/sign-in" component={SignIn} />
        <Route path="/set-up" component={SetUp} />
        <Route path="/studio" component={StudioEntry} />
        <Route default component={Nowhere} />
      </Router>
    </LocationProvider>
  );
}
