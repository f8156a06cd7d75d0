-- One row: what a lost hour of fishing is worth, and by whom it was set.
-- As the season says, else the value of the catch per hour towed, where there are prices.
with

priced as (
    select sum(value) / sum(tow_hours) as value_per_hour
    from measured_hauls
    where value is not null
),

final as (
    select
        coalesce(cost_rates.hour_lost, priced.value_per_hour) as hour_worth,
        case
            when cost_rates.hour_lost is not null then 'the season'
            when priced.value_per_hour is not null then 'the catch'
            else 'nobody'
        end as worth_told_by
    from cost_rates
    cross join priced
)

select * from final
