import { LocationProvider, Route, Router } from 'preact-iso';
import { AfterwardsPage } from './afterwards/afterwards-page';
import { BringPage } from './bring/bring-page';
import { CountPage } from './count/count-page';
import { SetUp } from './entry/set-up';
import { SignIn } from './entry/sign-in';
import { StudioEntry } from './entry/studio-entry';
import { pageChanged } from './heading';
import { MixesPage } from './mixes/mixes-page';
import { Nowhere } from './nowhere';
import { OrdersPage } from './orders/orders-page';
import { OwesPage } from './owes/owes-page';
import { NewPlanPage } from './plans/new-plan-page';
import { PlanPage } from './plans/plan-page';
import { PlansPage } from './plans/plans-page';
import { PricePage } from './price/price-page';
import { SalesPage } from './sales/sales-page';
import { ShelfPage } from './shelf/shelf-page';
import { TilesPage } from './tiles/tiles-page';
import { TodayPage } from './today/today-page';

/** The desk: each address is one question that the owner asks. */
export function Desk() {
  return (
    <LocationProvider>
      <Router onRouteChange={pageChanged}>
        <Route path="/" component={TodayPage} />
        <Route path="/owes" component={OwesPage} />
        <Route path="/price/plans" component={PlansPage} />
        <Route path="/price/plans/new/:planId?" component={NewPlanPage} />
        <Route path="/price/plans/:planId" component={PlanPage} />
        <Route path="/price/:courseId?" component={PricePage} />
        <Route path="/afterwards/:courseId?" component={AfterwardsPage} />
        <Route path="/shelf" component={ShelfPage} />
        <Route path="/shelf/orders" component={OrdersPage} />
        <Route path="/shelf/sales" component={SalesPage} />
        <Route path="/shelf/mixes" component={MixesPage} />
        <Route path="/shelf/tiles" component={TilesPage} />
        <Route path="/shelf/count" component={CountPage} />
        <Route path="/shelf/bring" component={BringPage} />
        <Route path="/sign-in" component={SignIn} />
        <Route path="/set-up" component={SetUp} />
        <Route path="/studio" component={StudioEntry} />
        <Route default component={Nowhere} />
      </Router>
    </LocationProvider>
  );
}
