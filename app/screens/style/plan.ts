import { css } from 'lit'

/** The plan of lamps: bar, stems, heads and plates, in the five sizes of plan-layout.ts. */
export const plan = css`
  :host {
    display: block;
    overflow-x: hidden;
    overflow-y: auto;
  }
  .plan {
    position: relative;
    line-height: 1.2;
  }
  .stems {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
  }
  .stems path {
    fill: none;
    stroke: var(--bar-strong);
    stroke-width: 1;
  }
  .lamp {
    position: absolute;
    inset: 0 auto auto 0;
    width: var(--plate-width);
    height: var(--plate-height);
    padding: 0 3px;
    contain: strict;
    display: grid;
    grid-template-rows: var(--plate-rows);
    justify-items: center;
    text-align: center;
    color: var(--paper-soft);
    font-variant-numeric: tabular-nums;
  }
  .lit {
    color: var(--paper);
  }
  .lamp > span {
    width: 100%;
    overflow: hidden;
    white-space: nowrap;
    background: var(--ground);
  }
  .head {
    width: auto;
    height: 100%;
    overflow: visible;
  }
  circle,
  .sepals {
    fill: none;
    stroke-width: 1;
  }
  .sepals {
    stroke: var(--bar-strong);
  }
  .glass {
    fill: var(--ground);
  }
  .light {
    fill: var(--light);
  }
  .rim {
    stroke-width: 1.5;
  }
  .lit .rim {
    stroke-width: 3;
  }
  .claim {
    stroke-width: 2;
    fill: var(--ground);
  }
  .name {
    font-family: var(--plate-serif);
    font-style: italic;
    text-overflow: ellipsis;
  }
  .note {
    font-weight: 700;
  }
  .lamp > .owner {
    position: absolute;
    left: calc(50% + var(--head) / 2 + 2px);
    top: calc(var(--head) * 0.2);
    width: auto;
    display: grid;
    justify-items: center;
    background: none;
    line-height: 1;
  }
  .owner svg {
    width: var(--leaf);
    height: var(--leaf);
  }
  .owner b {
    font-weight: 500;
    font-size: var(--initials);
  }
  .fine span {
    margin-left: 0.35em;
  }
  .broad {
    --head: 68px;
    --leaf: 20px;
    --initials: 15px;
    --plate-rows: 68px 26px 40px 28px 24px;
    .name {
      font-size: 19px;
    }
    .note {
      font-size: 33px;
    }
    .hz {
      font-size: 22px;
    }
    .fine {
      font-size: 17px;
    }
  }
  .full {
    --head: 58px;
    --leaf: 19px;
    --initials: 15px;
    --plate-rows: 58px 24px 37px 25px 20px;
    .name {
      font-size: 18px;
    }
    .note {
      font-size: 30px;
    }
    .hz {
      font-size: 20px;
    }
    .fine {
      font-size: 15px;
    }
  }
  .narrow {
    --head: 48px;
    --leaf: 17px;
    --initials: 14px;
    --plate-rows: 48px 22px 35px 23px 20px;
    .name {
      font-size: 16px;
    }
    .note {
      font-size: 28px;
    }
    .hz {
      font-size: 17px;
    }
    .fine {
      font-size: 12px;
    }
  }
  .small {
    --head: 40px;
    --leaf: 14px;
    --initials: 12px;
    --plate-rows: 40px 18px 26px 20px 0;
    .name {
      font-size: 14px;
    }
    .note {
      font-size: 21px;
    }
    .hz {
      font-size: 14px;
    }
    .fine {
      display: none;
    }
  }
  .least {
    --head: 30px;
    --leaf: 12px;
    --initials: 0px;
    --plate-rows: 30px 15px 21px 0 0;
    .name {
      font-size: 12px;
    }
    .note {
      font-size: 17px;
    }
    .owner b,
    .hz,
    .fine {
      display: none;
    }
  }
`
